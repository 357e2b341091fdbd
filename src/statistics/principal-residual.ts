import { symmetricEigen } from "./eigen.ts";
import { chiSquareQuantile } from "./quantiles.ts";
import type { Covariance } from "./robust-covariance.ts";

/** Directions in which the signals hardly vary together, by standard scores; plain data. */
export interface ResidualModel {
  readonly mean: readonly number[];
  readonly spreads: readonly number[];
  /** Unit vectors of the principal components left out, and the variance along each. */
  readonly axes: readonly (readonly number[])[];
  readonly variances: readonly number[];
}

/**
 * Keeps the principal components that hold `shareKept` of the variance of the standard scores, all but one at
 * most, and measures in the others. `covariance`: positive definite.
 */
export function residualModel({ mean, covariance }: Covariance, shareKept = 0.9): ResidualModel {
  const spreads = covariance.map((row, i) => Math.sqrt(row[i]));
  const { values, vectors } = symmetricEigen(
    covariance.map((row, i) => row.map((c, j) => c / (spreads[i] * spreads[j]))),
  );
  let kept = 0;
  let held = 0;
  while (kept < values.length - 1 && held < shareKept * values.length - 1e-9) held += values[kept++];
  return { mean, spreads, axes: vectors.slice(kept), variances: values.slice(kept) };
}

function along(model: ResidualModel, axis: readonly number[], values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < axis.length; i++) {
    sum += (axis[i] * (values[i] - model.mean[i])) / model.spreads[i];
  }
  return sum;
}

/**
 * Q, the squared prediction error: what the kept components cannot explain of a reading, without unit, 0 or
 * more. It is large where signals that go together part, each still within its range. NaN where a signal is
 * missing. Makes no objects.
 * Source: J. E. Jackson and G. S. Mudholkar, "Control procedures for residuals associated with principal
 * component analysis", Technometrics 21 (1979), from memory.
 */
export function squaredResidual(model: ResidualModel, values: ArrayLike<number>): number {
  let sum = 0;
  for (const axis of model.axes) {
    const part = along(model, axis, values);
    sum += part * part;
  }
  return sum;
}

/** A signal each: its part of Q; they add up to it. */
export function residualContributions(model: ResidualModel, values: ArrayLike<number>): number[] {
  const residual = model.mean.map(() => 0);
  for (const axis of model.axes) {
    const part = along(model, axis, values);
    for (let i = 0; i < axis.length; i++) residual[i] += axis[i] * part;
  }
  return residual.map((part) => part * part);
}

/**
 * The Q that a normal reading passes with the chance `alpha`: g χ²(h) with the mean and variance of Q.
 * Source: G. E. P. Box, "Some theorems on quadratic forms", Annals of Mathematical Statistics 25 (1954), as
 * used by P. Nomikos and J. F. MacGregor, "Multivariate SPC charts for monitoring batch processes",
 * Technometrics 37 (1995); from memory.
 */
export function residualLimit({ variances }: ResidualModel, alpha: number): number {
  let first = 0;
  let second = 0;
  for (const variance of variances) {
    first += variance;
    second += variance * variance;
  }
  return (second / first) * chiSquareQuantile(1 - alpha, (first * first) / second);
}
