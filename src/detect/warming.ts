import { minute } from "../terms/time.ts";

/**
 * How fast a motor warms, from two averages of its temperature: over 2 min, which takes the noise away, and over
 * 6 min (house choices). A steady rise stands between them by their difference in time.
 */
const fastMs = 2 * minute;
const slowMs = 6 * minute;
/** Where readings are further apart, the averages go over so many intervals. */
const fastIntervals = 2;
/** After a break of so many intervals they start anew. */
const breakIntervals = 10;

/** Where the averages stand, °C; plain data. NaN before the first reading of a run. */
export interface Warming {
  atMs: number;
  fastC: number;
  slowC: number;
}

export function startWarming(): Warming {
  return { atMs: Number.NaN, fastC: Number.NaN, slowC: Number.NaN };
}

/** The readings that are taken in: while the motor runs, `sinceStartMs` is no NaN; a missing temperature is one. */
export interface WarmingRows {
  readonly intervalMs: number;
  readonly timeMs: Float64Array;
  readonly sinceStartMs: Float64Array;
  readonly temperatureC: Float64Array;
}

/** Takes in rows `from…to` and writes for each the rise, K per ms: 0 while the motor stands or has only just started. */
export function warm(
  state: Warming,
  { intervalMs, timeMs, sinceStartMs, temperatureC }: WarmingRows,
  from: number,
  to: number,
  into: Float64Array,
): void {
  const stretch = Math.max(1, (fastIntervals * intervalMs) / fastMs);
  const apartMs = stretch * (slowMs - fastMs);
  let shareMs = Number.NaN;
  let fastShare = 0;
  let slowShare = 0;
  let { atMs, fastC, slowC } = state;
  for (let row = from; row < to; row++) {
    into[row] = 0;
    if (Number.isNaN(sinceStartMs[row])) atMs = Number.NaN;
    const now = temperatureC[row];
    if (Number.isNaN(now) || Number.isNaN(sinceStartMs[row])) continue;
    const stepMs = timeMs[row] - atMs;
    atMs = timeMs[row];
    if (!(stepMs <= breakIntervals * intervalMs)) {
      fastC = now;
      slowC = now;
      continue;
    }
    if (stepMs !== shareMs) {
      shareMs = stepMs;
      fastShare = -Math.expm1(-stepMs / (stretch * fastMs));
      slowShare = -Math.expm1(-stepMs / (stretch * slowMs));
    }
    fastC += fastShare * (now - fastC);
    slowC += slowShare * (now - slowC);
    into[row] = (fastC - slowC) / apartMs;
  }
  state.atMs = atMs;
  state.fastC = fastC;
  state.slowC = slowC;
}
