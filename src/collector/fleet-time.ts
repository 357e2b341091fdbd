import type { ReadingBatch } from "../terms/batch.ts";
import { hour, second } from "../terms/time.ts";

const secondsAnHour = hour / second;
const wordsAnHour = Math.ceil(secondsAnHour / 32);

/**
 * When any unit of a fleet had readings, a bit for each second. It tells, in replay, whether the fleet's time
 * went on while one unit was silent. The order in which units are taken in does not matter, so they may be
 * played one after the other or at once.
 */
export interface FleetTime {
  /** By hour since 1970. */
  readonly hours: Map<number, Uint32Array>;
  newestMs: number;
}

export function startFleetTime(): FleetTime {
  return { hours: new Map(), newestMs: Number.NEGATIVE_INFINITY };
}

export function markReadings(fleet: FleetTime, { rows, timeMs }: ReadingBatch): void {
  let number = Number.NaN;
  let words: Uint32Array = new Uint32Array(0);
  for (let row = 0; row < rows; row++) {
    const t = timeMs[row];
    if (t > fleet.newestMs) fleet.newestMs = t;
    const thisHour = Math.floor(t / hour);
    if (thisHour !== number) {
      number = thisHour;
      words = hourOf(fleet, number);
    }
    const s = Math.floor((t - number * hour) / second);
    words[s >> 5] |= 1 << (s & 31);
  }
}

function hourOf(fleet: FleetTime, number: number): Uint32Array {
  const words = fleet.hours.get(number) ?? new Uint32Array(wordsAnHour);
  fleet.hours.set(number, words);
  return words;
}

/** Takes in what another part of the fleet had. */
export function addFleetTime(fleet: FleetTime, other: FleetTime): void {
  fleet.newestMs = Math.max(fleet.newestMs, other.newestMs);
  for (const [number, words] of other.hours) {
    const mine = hourOf(fleet, number);
    for (let k = 0; k < words.length; k++) mine[k] |= words[k];
  }
}

/** Whether the fleet has a reading from `fromMs` on and before `beforeMs`; only whole seconds between them count. */
export function hasReading(fleet: FleetTime, fromMs: number, beforeMs: number): boolean {
  const end = Math.floor(beforeMs / second);
  for (let s = Math.ceil(fromMs / second); s < end; ) {
    const number = Math.floor((s * second) / hour);
    const inHour = s - (number * hour) / second;
    const words = fleet.hours.get(number);
    const word = words?.[inHour >> 5] ?? 0;
    if ((word & (1 << (inHour & 31))) !== 0) return true;
    if (words === undefined) s = ((number + 1) * hour) / second;
    else s += word === 0 ? Math.min(32 - (inHour & 31), secondsAnHour - inHour) : 1;
  }
  return false;
}
