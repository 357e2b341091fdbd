import { sampleCorrelation } from "simple-statistics";
import { symmetricEigen } from "./eigen.ts";
import { robustLocationScale } from "./robust.ts";

export interface Covariance {
  readonly mean: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

/**
 * Robust centre and covariance of signals read together: median and MAD a signal, correlation of wrapped
 * scores, so that readings far out in any signal count for nothing there.
 *
 * `signals`: a list a signal, all as long and finite. `leastSpreads`: the least standard deviation a signal is
 * given, above 0, for example its resolution; a sensor that never moves would else make every step endless.
 * `conditionLimit`: see `shrinkCorrelation`. The result is positive definite. Throws on empty lists.
 * Source: J. Raymaekers and P. J. Rousseeuw, "Fast robust correlation for high-dimensional data", Technometrics
 * 63 (2021), from memory.
 */
export function robustCovariance(
  signals: readonly (readonly number[])[],
  leastSpreads: readonly number[],
  conditionLimit = 1000,
): Covariance {
  const scales = signals.map((values, i) => {
    const { center, spread } = robustLocationScale(values);
    return { center, spread: Math.max(spread, leastSpreads[i]) };
  });
  const wrapped = signals.map((values, i) =>
    values.map((value) => wrap((value - scales[i].center) / scales[i].spread)),
  );
  const raw = wrapped.map((x, i) => wrapped.map((y, j) => (i === j ? 1 : sampleCorrelation(x, y) || 0)));
  const correlation = shrinkCorrelation(raw, conditionLimit);
  return {
    mean: scales.map(({ center }) => center),
    covariance: correlation.map((row, i) => row.map((r, j) => r * scales[i].spread * scales[j].spread)),
  };
}

/** Leaves scores within 1.5 as they are, and takes those beyond back to 0 at 4; constants of the source. */
function wrap(score: number): number {
  const size = Math.abs(score);
  if (size <= 1.5) return score;
  return size >= 4 ? 0 : Math.sign(score) * 1.540793 * Math.tanh(0.8622731 * (4 - size));
}

/**
 * Shrinks the correlations towards 0 just so far that the largest eigenvalue is at most `conditionLimit` times
 * the least: two signals that say the same must not turn their noise into a huge distance. Form: J. Schäfer and
 * K. Strimmer, "A shrinkage approach to large-scale covariance matrix estimation" (2005), from memory; how far
 * is this project's choice.
 */
export function shrinkCorrelation(
  correlation: readonly (readonly number[])[],
  conditionLimit: number,
): number[][] {
  const { values } = symmetricEigen(correlation);
  const excess = values[0] - conditionLimit * values[values.length - 1];
  const share = excess > 0 ? excess / (excess + conditionLimit - 1) : 0;
  return correlation.map((row, i) => row.map((r, j) => (i === j ? r : (1 - share) * r)));
}
