import type { ReadingBatch } from "../terms/batch.ts";
import { day, minute } from "../terms/time.ts";

const minutesADay = day / minute;

/**
 * When any unit of a fleet had readings: the first and last reading time of every minute. It tells, in
 * replay, whether the fleet's time went on while one unit was silent. The order in which units are taken
 * in does not matter, so they may be played one after the other or at once.
 */
export interface FleetMinutes {
  /** By day since 1970: first and last reading of each minute, NaN where there is none. */
  readonly days: Map<number, Float64Array>;
  newestMs: number;
}

export function startFleetMinutes(): FleetMinutes {
  return { days: new Map(), newestMs: Number.NEGATIVE_INFINITY };
}

export function markReadings(fleet: FleetMinutes, batch: ReadingBatch): void {
  for (let row = 0; row < batch.rows; row++) {
    const t = batch.timeMs[row];
    if (t > fleet.newestMs) fleet.newestMs = t;
    const dayOf = Math.floor(t / day);
    let minutes = fleet.days.get(dayOf);
    if (minutes === undefined) {
      minutes = new Float64Array(2 * minutesADay).fill(Number.NaN);
      fleet.days.set(dayOf, minutes);
    }
    const m = 2 * Math.floor((t - dayOf * day) / minute);
    if (!(minutes[m] <= t)) minutes[m] = t;
    if (!(minutes[m + 1] >= t)) minutes[m + 1] = t;
  }
}

/** Whether the fleet has a reading from `fromMs` on and before `beforeMs`. */
export function hasReading(fleet: FleetMinutes, fromMs: number, beforeMs: number): boolean {
  for (let m = Math.floor(fromMs / minute); m * minute < beforeMs; m++) {
    const dayOf = Math.floor(m / minutesADay);
    const minutes = fleet.days.get(dayOf);
    if (minutes === undefined) {
      m = (dayOf + 1) * minutesADay - 1;
      continue;
    }
    const k = 2 * (m - dayOf * minutesADay);
    const first = minutes[k];
    const last = minutes[k + 1];
    if ((first >= fromMs && first < beforeMs) || (last >= fromMs && last < beforeMs)) return true;
  }
  return false;
}
