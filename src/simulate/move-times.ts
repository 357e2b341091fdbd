import { localClock } from "../fleet/local-clock.ts";
import { timeWriter } from "./log-format.ts";

const rowTime = /^(?:(\d{4}-\d\d-\d\d)([T ])(\d\d:\d\d:\d\d)(Z|[+-]\d\d:\d\d)?|(\d{10}))(?=[,;\t])/;

/**
 * Moves the time at the head of each line by `shiftMs`, each in the form it has: RFC 3339, a wall clock
 * in `timezone`, or Unix seconds. Lines that begin with no time stay as they are.
 */
export function timeMover(timezone: string, shiftMs: number): (text: string) => string {
  const utc = timeWriter({ time: "utc", timezone });
  const offset = timeWriter({ time: "offset", timezone });
  const local = timeWriter({ time: "local", timezone });
  const instantOf = wallClockReader(timezone);
  const moveLine = (line: string) =>
    line.replace(rowTime, (whole, date, between, clock, zone, unix) => {
      if (unix !== undefined) return String(Number(unix) + shiftMs / 1000);
      if (zone === "Z") return utc(Date.parse(whole) + shiftMs);
      if (zone !== undefined) return offset(Date.parse(whole) + shiftMs);
      return local(instantOf(Date.parse(`${date}T${clock}Z`)) + shiftMs).replace(" ", between);
    });
  return (text) => text.split("\n").map(moveLine).join("\n");
}

/** The instant at which a wall clock shows a time (both ms, the latter as if in UTC); of a repeated hour the first. */
function wallClockReader(timezone: string): (wallMs: number) => number {
  const before = localClock(timezone);
  const after = localClock(timezone);
  const dayMs = 86_400_000;
  return (wallMs) => {
    const early = wallMs - (before(wallMs - dayMs) - (wallMs - dayMs));
    const late = wallMs - (after(wallMs + dayMs) - (wallMs + dayMs));
    return before(early) === wallMs ? early : late;
  };
}
