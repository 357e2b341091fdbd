import { minute } from "../terms/time.ts";

/**
 * How fast a motor warms: a straight line through its last readings, of which each counts the less the older it
 * is, by a time constant of 2 min (house choice): long enough to take the noise away, short beside the 15 to 30 min
 * in which a motor warms (common practice).
 */
const fadesMs = 2 * minute;
/** Where readings are further apart, the line goes over so many intervals. */
const fadesIntervals = 4;
/** After a break of so many intervals it starts anew. */
const breakIntervals = 10;
/** Fewer readings, as they count, make no line. */
const fewest = 3;

/** Sums over the readings as they count, times from the newest back (ms), temperatures from `fromC` up (K); plain data. */
export interface Warming {
  /** NaN before the first reading of a run. */
  atMs: number;
  fromC: number;
  weight: number;
  time: number;
  time2: number;
  rise: number;
  rise2: number;
  product: number;
}

export function startWarming(): Warming {
  return { atMs: Number.NaN, fromC: 0, weight: 0, time: 0, time2: 0, rise: 0, rise2: 0, product: 0 };
}

/** The readings that are taken in: while the motor runs, `sinceStartMs` is no NaN; a missing temperature is one. */
export interface WarmingRows {
  readonly intervalMs: number;
  readonly timeMs: Float64Array;
  readonly sinceStartMs: Float64Array;
  readonly temperatureC: Float64Array;
}

/**
 * Takes in rows `from…to` and writes for each the rise, K per ms, and its standard error; both 0 while the motor
 * stands or has only just started. Source: weighted least squares with exponential forgetting, standard error by the
 * weights as numbers of readings, which is never too small.
 */
export function warm(
  state: Warming,
  { intervalMs, timeMs, sinceStartMs, temperatureC }: WarmingRows,
  from: number,
  to: number,
  rates: Float64Array,
  errors: Float64Array,
): void {
  const overMs = Math.max(fadesMs, fadesIntervals * intervalMs);
  let shareMs = Number.NaN;
  let kept = 0;
  for (let row = from; row < to; row++) {
    rates[row] = 0;
    errors[row] = 0;
    if (Number.isNaN(sinceStartMs[row])) state.atMs = Number.NaN;
    const now = temperatureC[row];
    if (Number.isNaN(now) || Number.isNaN(sinceStartMs[row])) continue;
    const stepMs = timeMs[row] - state.atMs;
    if (!(stepMs <= breakIntervals * intervalMs)) Object.assign(state, startWarming(), { fromC: now });
    else if (stepMs !== shareMs) {
      shareMs = stepMs;
      kept = Math.exp(-stepMs / overMs);
    }
    state.atMs = timeMs[row];
    if (state.weight > 0) fade(state, stepMs, kept);
    const rise = now - state.fromC;
    state.weight += 1;
    state.rise += rise;
    state.rise2 += rise * rise;
    if (state.weight < fewest) continue;
    const { weight, time, time2, product } = state;
    const spread = time2 - (time * time) / weight;
    if (!(spread > 0)) continue;
    const rate = (product - (time * state.rise) / weight) / spread;
    const left = state.rise2 - (state.rise * state.rise) / weight - rate * rate * spread;
    rates[row] = rate;
    errors[row] = Math.sqrt(Math.max(0, left) / Math.max(1, weight - 2) / spread);
  }
}

/** Moves the readings `stepMs` into the past, where they count `kept` of what they did. */
function fade(state: Warming, stepMs: number, kept: number): void {
  state.time2 = kept * (state.time2 - 2 * stepMs * state.time + stepMs * stepMs * state.weight);
  state.product = kept * (state.product - stepMs * state.rise);
  state.time = kept * (state.time - stepMs * state.weight);
  state.weight *= kept;
  state.rise *= kept;
  state.rise2 *= kept;
}
