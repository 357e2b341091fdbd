import { Temporal } from "temporal-polyfill";
import { iso } from "../terms/time.ts";

/** One for all units of a zone: it holds nothing but what the zone has answered. */
const clocks = new Map<string, (timeMs: number) => number>();

/**
 * What a wall clock in `timezone` shows at an instant: both in ms, the answer as if the clock stood in
 * UTC. The zone is asked once for each stretch between two changes of its offset, so that a call costs a
 * comparison and an addition while times stay within a stretch. Throws a RangeError on an unknown zone.
 */
export function localClock(timezone: string): (timeMs: number) => number {
  const clock = clocks.get(timezone) ?? startClock(timezone);
  clocks.set(timezone, clock);
  return clock;
}

function startClock(timezone: string): (timeMs: number) => number {
  let fromMs = Number.POSITIVE_INFINITY;
  let toMs = Number.NEGATIVE_INFINITY;
  let offsetMs = 0;
  return (timeMs) => {
    if (timeMs < fromMs || timeMs >= toMs) {
      const there = Temporal.Instant.fromEpochMilliseconds(Math.floor(timeMs)).toZonedDateTimeISO(timezone);
      offsetMs = there.offsetNanoseconds / 1e6;
      // "previous" looks for a change strictly before, and one at this very instant has been made already.
      fromMs =
        there.add({ nanoseconds: 1 }).getTimeZoneTransition("previous")?.epochMilliseconds ??
        Number.NEGATIVE_INFINITY;
      toMs = there.getTimeZoneTransition("next")?.epochMilliseconds ?? Number.POSITIVE_INFINITY;
    }
    return timeMs + offsetMs;
  };
}

/** A moment as the clocks in `timezone` show it: `2026-05-04 03:12`. Throws a RangeError on an unknown zone. */
export function localMinute(timeMs: number, timezone: string): string {
  return iso(localClock(timezone)(timeMs)).slice(0, 16).replace("T", " ");
}
