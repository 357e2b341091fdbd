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

/** Takes in readings at this sample interval: time, and temperature in °C. Returns the rise in K per ms. */
export function warmer(intervalMs: number): (state: Warming, timeMs: number, temperatureC: number) => number {
  const stretch = Math.max(1, (fastIntervals * intervalMs) / fastMs);
  const apartMs = stretch * (slowMs - fastMs);
  let shareMs = Number.NaN;
  let fastShare = 0;
  let slowShare = 0;
  return (state, timeMs, temperatureC) => {
    const stepMs = timeMs - state.atMs;
    state.atMs = timeMs;
    if (!(stepMs <= breakIntervals * intervalMs)) {
      state.fastC = temperatureC;
      state.slowC = temperatureC;
      return 0;
    }
    if (stepMs !== shareMs) {
      shareMs = stepMs;
      fastShare = -Math.expm1(-stepMs / (stretch * fastMs));
      slowShare = -Math.expm1(-stepMs / (stretch * slowMs));
    }
    state.fastC += fastShare * (temperatureC - state.fastC);
    state.slowC += slowShare * (temperatureC - state.slowC);
    return (state.fastC - state.slowC) / apartMs;
  };
}
