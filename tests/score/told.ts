import type { Told } from "../../src/score/told.ts";
import type { Fault } from "../../src/score/truth.ts";
import type { AlarmName } from "../../src/terms/alarms.ts";
import { hour, minute } from "../../src/terms/time.ts";
import { midnight } from "../support/unit-days.ts";

/** `10:05` of the test day, ms. */
export function at(clock: string): number {
  const [h, m] = clock.split(":").map(Number);
  return midnight + h * hour + m * minute;
}

/** `10:05 raised lost-prime`, at another unit than LM-01 with ` P-02` behind it; in order of time. */
export function told(...lines: readonly string[]): Told[] {
  return lines
    .map((line) => {
      const [clock, kind, alarm, unit = "LM-01"] = line.split(" ");
      const priority = "high" as const;
      return { timeMs: at(clock), kind: kind as Told["kind"], alarm: alarm as AlarmName, unit, priority };
    })
    .sort((a, b) => a.timeMs - b.timeMs);
}

/** `10:00-11:00 lost-prime`, at another unit than LM-01 with ` P-02` behind it. */
export function fault(line: string): Fault {
  const [times, alarm, unit = "LM-01"] = line.split(" ");
  const [start, end] = times.split("-");
  return { unit, alarm: alarm as AlarmName, startMs: at(start), endMs: at(end) };
}
