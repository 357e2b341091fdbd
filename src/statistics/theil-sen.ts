import { median, medianSorted, quantileSorted } from "simple-statistics";

export interface TheilSen {
  /** Median of the slopes of all pairs: value per unit of time. */
  readonly slope: number;
  /** Where the line stands at time 0. */
  readonly intercept: number;
  /** The slopes of all pairs, ascending: what `slopeInterval` rests on. */
  readonly slopes: readonly number[];
}

/**
 * Straight line that up to 29 % wild values do not carry away. `times` ascend strictly, `values` are as many
 * and finite; times near 0 keep the intercept's digits. Intercept: median value less slope × median time. Cost:
 * sorts n(n − 1)/2 slopes, meant for n to about 400. Throws below two points and on times that do not ascend.
 * Source: P. K. Sen, "Estimates of the regression coefficient based on Kendall's tau", JASA 63 (1968);
 * intercept: W. J. Conover, "Practical Nonparametric Statistics", from memory.
 */
export function theilSen(times: readonly number[], values: readonly number[]): TheilSen {
  const n = times.length;
  if (n < 2 || values.length !== n) throw new RangeError("theilSen needs two points or more, a value a time");
  const unsorted = new Float64Array((n * (n - 1)) / 2);
  let k = 0;
  for (let i = 1; i < n; i++) {
    if (!(times[i] > times[i - 1])) throw new RangeError("theilSen: times must ascend");
    for (let j = 0; j < i; j++) unsorted[k++] = (values[i] - values[j]) / (times[i] - times[j]);
  }
  const slopes = Array.from(unsorted.sort());
  const slope = medianSorted(slopes);
  const intercept = median(values) - slope * medianSorted(times);
  return { slope, intercept, slopes };
}

/**
 * Confidence interval of the slope. `slopes` as of `theilSen`, `variance` that of Mann–Kendall's S, `z` the
 * normal quantile of the confidence, 1.96 for 95 %. An end is infinite where there are too few points for that
 * confidence.
 * Source: R. O. Gilbert, "Statistical Methods for Environmental Pollution Monitoring" (1987), 16.5:
 * C = z √Var(S), the ranks (N − C)/2 and (N + C)/2 + 1 among N slopes. Convention: between whole ranks, slopes
 * are interpolated linearly.
 */
export function slopeInterval(
  slopes: readonly number[],
  variance: number,
  z: number,
): [low: number, high: number] {
  const n = slopes.length;
  const reach = z * Math.sqrt(variance);
  if (reach > n - 2) return [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const fromEnd = ((n - reach) / 2 - 1) / (n - 1);
  return [quantileSorted(slopes, fromEnd), quantileSorted(slopes, 1 - fromEnd)];
}
