/** Two one-sided cumulative sums; plain data, constant size. `…Count`: values since that sum last was 0. */
export interface Cusum {
  high: number;
  low: number;
  highCount: number;
  lowCount: number;
}

/**
 * What a sum is held against, in the unit of the values. `slack` (k) is half the shift to be found,
 * `limit` (h) where it signals; common practice: 0.5 and 4 to 5 standard deviations.
 */
export interface CusumChart {
  readonly target: number;
  readonly slack: number;
  readonly limit: number;
}

export function startCusum(): Cusum {
  return { high: 0, low: 0, highCount: 0, lowCount: 0 };
}

/**
 * Takes one value in, changing `state`; tells on which side a sum is past its limit, the larger where both are.
 * Nothing is set back at a signal: `highCount` or `lowCount` values ago the shift most likely began. A missing
 * value (NaN) changes nothing.
 * Source: tabular CUSUM of the NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.3; the counts: D. C.
 * Montgomery, "Introduction to Statistical Quality Control", from memory.
 */
export function stepCusum(state: Cusum, value: number, chart: CusumChart): "high" | "low" | null {
  if (!Number.isNaN(value)) {
    const difference = value - chart.target;
    state.high = Math.max(0, state.high + difference - chart.slack);
    state.low = Math.max(0, state.low - difference - chart.slack);
    state.highCount = state.high > 0 ? state.highCount + 1 : 0;
    state.lowCount = state.low > 0 ? state.lowCount + 1 : 0;
  }
  if (Math.max(state.high, state.low) <= chart.limit) return null;
  return state.high >= state.low ? "high" : "low";
}
