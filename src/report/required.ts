import { wantedRunning } from "../fleet/schedule.ts";
import { takesBack } from "../fleet/services.ts";
import type { ServiceRecord, Unit } from "../fleet/unit.ts";
import { minute } from "../terms/time.ts";
import { difference, type Interval, union } from "./intervals.ts";

/**
 * Stretches of a unit's records of one sort, from a begin to its end or lapse; one that is open lasts to `toMs`, and one
 * that was taken back is none.
 */
export function stretchesOf(
  records: readonly ServiceRecord[],
  isMeant: (work: ServiceRecord["work"]) => boolean,
  toMs: number,
): Interval[] {
  const begun = new Map<string, number>();
  const stretches: Interval[] = [];
  for (const record of records) {
    const { work, step, atMs } = record;
    if (!isMeant(work)) continue;
    if (takesBack(record)) begun.delete(work);
    else if (step === "begin") begun.set(work, begun.get(work) ?? atMs);
    if (step !== "end" && step !== "lapse") continue;
    const fromMs = begun.get(work);
    if (fromMs !== undefined) stretches.push({ fromMs, toMs: atMs });
    begun.delete(work);
  }
  return union([...stretches, ...[...begun.values()].map((fromMs) => ({ fromMs, toMs }))]);
}

/**
 * When a unit was required within a period: in its season and within its daily windows, but for planned stops; where
 * no schedule is written, all of its season. To the minute.
 */
export function requiredTime(
  unit: Pick<Unit, "runs" | "season">,
  timezone: string,
  { fromMs, toMs }: Interval,
  plannedStops: readonly Interval[],
): Interval[] {
  const wanted = wantedRunning(unit, timezone);
  const stretches: Interval[] = [];
  let beganMs: number | null = null;
  for (let ms = fromMs; ms < toMs; ms = (Math.floor(ms / minute) + 1) * minute) {
    const isRequired = wanted(ms) !== 0;
    if (isRequired) beganMs ??= ms;
    else if (beganMs !== null) {
      stretches.push({ fromMs: beganMs, toMs: ms });
      beganMs = null;
    }
  }
  if (beganMs !== null) stretches.push({ fromMs: beganMs, toMs });
  return difference(stretches, plannedStops);
}
