import { mean, median, medianSorted } from "simple-statistics";
import { type MannKendall, mannKendall } from "./mann-kendall.ts";
import { normalQuantile, normalUpperTail } from "./normal.ts";
import { slopeInterval } from "./theil-sen.ts";
import { serialFactorOf, type Trend } from "./trend.ts";

/**
 * Mann–Kendall test of values that also swing with a season: only values of one season are compared. `values`:
 * finite, in time order; `seasons` the number of each one's; `varianceFactor` as in `mannKendall`. `p` of the
 * normal approximation.
 * Source: R. M. Hirsch, J. R. Slack and R. A. Smith, "Techniques of trend analysis for monthly water quality
 * data", Water Resources Research 18 (1982).
 */
export function seasonalKendall(
  values: readonly number[],
  seasons: readonly number[],
  varianceFactor = 1,
): MannKendall {
  let s = 0;
  let variance = 0;
  for (const own of Map.groupBy(values, (_, i) => seasons[i]).values()) {
    const test = mannKendall(own, varianceFactor);
    s += test.s;
    variance += test.variance;
  }
  const z = s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  return { s, variance, z, p: 2 * normalUpperTail(Math.abs(z)) };
}

export interface SeasonalTrend extends Trend {
  /** Where the line of each season stands at time 0. */
  readonly intercepts: ReadonlyMap<number, number>;
}

/**
 * Slow trend of values that also swing with a season, such as the time of day: the seasonal Kendall test and the
 * median of the slopes within the seasons, with its interval; both widened by the serial correlation of what line
 * and seasons leave. `times` ascend strictly, `values` are as many and finite, `seasons` the number of each one's;
 * `confidence` 0 to 1. The `intercept` is the mean of the seasons'. Null where no season holds two values.
 * Source: as `seasonalKendall`; the interval: R. O. Gilbert, "Statistical Methods for Environmental Pollution
 * Monitoring" (1987), 17.2; the widening as in `trend.ts`.
 */
export function seasonalTrend(
  times: readonly number[],
  values: readonly number[],
  seasons: readonly number[],
  confidence = 0.95,
): SeasonalTrend | null {
  const bySeason = Map.groupBy(times.keys(), (i) => seasons[i]);
  const slopes = slopesWithin(bySeason.values(), times, values);
  if (slopes.length === 0) return null;
  const slope = medianSorted(slopes);
  const intercepts = new Map<number, number>();
  for (const [season, own] of bySeason) {
    intercepts.set(season, median(own.map((i) => values[i] - slope * times[i])));
  }
  const left = values.map((value, i) => value - slope * times[i] - (intercepts.get(seasons[i]) ?? 0));
  const varianceFactor = serialFactorOf(left);
  const { variance, p } = seasonalKendall(values, seasons, varianceFactor);
  const [low, high] = slopeInterval(slopes, variance, normalQuantile((1 + confidence) / 2));
  const intercept = mean([...intercepts.values()]);
  return { slope, low, high, intercept, intercepts, p, varianceFactor };
}

/** The slopes of all pairs of one season, ascending. `seasons`: the places of each one's values. */
function slopesWithin(
  seasons: Iterable<readonly number[]>,
  times: readonly number[],
  values: readonly number[],
): number[] {
  const slopes: number[] = [];
  for (const places of seasons) {
    for (let k = 1; k < places.length; k++) {
      for (let j = 0; j < k; j++) {
        const [from, to] = [places[j], places[k]];
        slopes.push((values[to] - values[from]) / (times[to] - times[from]));
      }
    }
  }
  return Array.from(Float64Array.from(slopes).sort());
}
