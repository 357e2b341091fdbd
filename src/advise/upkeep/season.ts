import type { ServiceRecord } from "../../fleet/unit.ts";
import { day, hour } from "../../terms/time.ts";

/** Told from so long before a season begins or ends, and for as long after it. */
const aroundMs = 30 * day;
/** Work for a season is done no earlier. */
const earliestMs = 60 * day;

/** What the calendar asks for. */
export interface SeasonWork {
  readonly work: "lay-up" | "start-up";
  /** When the season ends or begins, ms, to the hour. */
  readonly onMs: number;
}

/** Laying up or starting up where a season ends or begins about now and the work is not on record yet; else null. */
export function seasonWork(
  isLaidUp: (timeMs: number) => boolean,
  records: readonly ServiceRecord[],
  nowMs: number,
): SeasonWork | null {
  const thisHourMs = Math.floor(nowMs / hour) * hour;
  for (let offMs = 0; offMs < aroundMs; offMs += hour) {
    for (const onMs of [thisHourMs - offMs, thisHourMs + offMs + hour]) {
      if (isLaidUp(onMs) === isLaidUp(onMs - hour)) continue;
      const work = isLaidUp(onMs) ? "lay-up" : "start-up";
      const isDone = records.some(
        (one) =>
          one.work === work &&
          (one.step === "done" || one.step === "end") &&
          one.atMs > onMs - earliestMs &&
          one.atMs <= nowMs,
      );
      return isDone ? null : { work, onMs };
    }
  }
  return null;
}
