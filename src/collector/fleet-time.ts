import type { ReadingBatch } from "../terms/batch.ts";
import { day, second } from "../terms/time.ts";

const wordsADay = day / second / 32;

/**
 * When any unit of a fleet had readings, a bit for each second. It tells, in replay, whether the fleet's time
 * went on while one unit was silent. The order in which units are taken in does not matter, so they may be
 * played one after the other or at once.
 */
export interface FleetTime {
  /** By day since 1970. */
  readonly days: Map<number, Uint32Array>;
  newestMs: number;
}

export function startFleetTime(): FleetTime {
  return { days: new Map(), newestMs: Number.NEGATIVE_INFINITY };
}

export function markReadings(fleet: FleetTime, { rows, timeMs }: ReadingBatch): void {
  let number = Number.NaN;
  let words: Uint32Array = new Uint32Array(0);
  for (let row = 0; row < rows; row++) {
    const t = timeMs[row];
    if (t > fleet.newestMs) fleet.newestMs = t;
    const today = Math.floor(t / day);
    if (today !== number) {
      number = today;
      words = dayOf(fleet, number);
    }
    const s = Math.floor((t - number * day) / second);
    words[s >> 5] |= 1 << (s & 31);
  }
}

function dayOf(fleet: FleetTime, number: number): Uint32Array {
  const words = fleet.days.get(number) ?? new Uint32Array(wordsADay);
  fleet.days.set(number, words);
  return words;
}

/** Takes in what another part of the fleet had. */
export function addFleetTime(fleet: FleetTime, other: FleetTime): void {
  fleet.newestMs = Math.max(fleet.newestMs, other.newestMs);
  for (const [number, words] of other.days) {
    const mine = dayOf(fleet, number);
    for (let k = 0; k < words.length; k++) mine[k] |= words[k];
  }
}

/** Whether the fleet has a reading from `fromMs` on and before `beforeMs`; only whole seconds between them count. */
export function hasReading(fleet: FleetTime, fromMs: number, beforeMs: number): boolean {
  const end = Math.floor(beforeMs / second);
  for (let s = Math.ceil(fromMs / second); s < end; ) {
    const number = Math.floor((s * second) / day);
    const inDay = s - (number * day) / second;
    const words = fleet.days.get(number);
    const word = words?.[inDay >> 5] ?? 0;
    if ((word & (1 << (inDay & 31))) !== 0) return true;
    if (words === undefined) s = ((number + 1) * day) / second;
    else s += word === 0 ? 32 - (inDay & 31) : 1;
  }
  return false;
}
