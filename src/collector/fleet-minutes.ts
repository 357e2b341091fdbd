import type { ReadingBatch } from "../terms/batch.ts";
import { day, minute, second } from "../terms/time.ts";

const minutesADay = day / minute;
const secondsADay = day / second;

interface FleetDay {
  /** First and last reading of each minute, NaN where there is none. */
  readonly ends: Float64Array;
  /** A bit for each second with a reading. */
  readonly seconds: Uint32Array;
}

/**
 * When any unit of a fleet had readings: the first and last reading time of every minute, and the seconds.
 * It tells, in replay, whether the fleet's time went on while one unit was silent. The order in which units
 * are taken in does not matter, so they may be played one after the other or at once.
 */
export interface FleetMinutes {
  /** By day since 1970. */
  readonly days: Map<number, FleetDay>;
  newestMs: number;
}

export function startFleetMinutes(): FleetMinutes {
  return { days: new Map(), newestMs: Number.NEGATIVE_INFINITY };
}

export function markReadings(fleet: FleetMinutes, batch: ReadingBatch): void {
  for (let row = 0; row < batch.rows; row++) {
    const t = batch.timeMs[row];
    if (t > fleet.newestMs) fleet.newestMs = t;
    const { ends, seconds } = dayOf(fleet, Math.floor(t / day));
    const inDay = t - Math.floor(t / day) * day;
    const m = 2 * Math.floor(inDay / minute);
    if (!(ends[m] <= t)) ends[m] = t;
    if (!(ends[m + 1] >= t)) ends[m + 1] = t;
    const s = Math.floor(inDay / second);
    seconds[s >> 5] |= 1 << (s & 31);
  }
}

function dayOf(fleet: FleetMinutes, number: number): FleetDay {
  let found = fleet.days.get(number);
  if (found === undefined) {
    found = {
      ends: new Float64Array(2 * minutesADay).fill(Number.NaN),
      seconds: new Uint32Array(secondsADay / 32),
    };
    fleet.days.set(number, found);
  }
  return found;
}

/**
 * Whether the fleet has a reading from `fromMs` on and before `beforeMs`. Within one minute only its whole
 * seconds count.
 */
export function hasReading(fleet: FleetMinutes, fromMs: number, beforeMs: number): boolean {
  const firstMinute = Math.floor(fromMs / minute);
  if (beforeMs <= (firstMinute + 1) * minute) return hasSecond(fleet, fromMs, beforeMs);
  for (let m = firstMinute; m * minute < beforeMs; m++) {
    const number = Math.floor(m / minutesADay);
    const ends = fleet.days.get(number)?.ends;
    if (ends === undefined) {
      m = (number + 1) * minutesADay - 1;
      continue;
    }
    const k = 2 * (m - number * minutesADay);
    const first = ends[k];
    const last = ends[k + 1];
    if ((first >= fromMs && first < beforeMs) || (last >= fromMs && last < beforeMs)) return true;
  }
  return false;
}

function hasSecond(fleet: FleetMinutes, fromMs: number, beforeMs: number): boolean {
  const number = Math.floor(fromMs / day);
  const seconds = fleet.days.get(number)?.seconds;
  if (seconds === undefined) return false;
  const end = Math.floor((beforeMs - number * day) / second);
  for (let s = Math.ceil((fromMs - number * day) / second); s < end; s++) {
    if ((seconds[s >> 5] & (1 << (s & 31))) !== 0) return true;
  }
  return false;
}
