import { choleskyInverse } from "./cholesky.ts";
import { betaQuantile, fQuantile } from "./quantiles.ts";
import type { Covariance } from "./robust-covariance.ts";

/** What T² is measured with; plain data. `precision`: the inverse of the covariance. */
export interface HotellingModel {
  readonly mean: readonly number[];
  readonly precision: readonly (readonly number[])[];
}

/** Throws where the covariance is not positive definite. */
export function hotellingModel({ mean, covariance }: Covariance): HotellingModel {
  return { mean, precision: choleskyInverse(covariance) };
}

/** The signal's part of the gradient of T², halved: Σⱼ Pᵢⱼ (xⱼ − x̄ⱼ). */
function pull(model: HotellingModel, values: ArrayLike<number>, signal: number): number {
  const row = model.precision[signal];
  let sum = 0;
  for (let j = 0; j < row.length; j++) sum += row[j] * (values[j] - model.mean[j]);
  return sum;
}

/**
 * Hotelling's T²: how far one reading of all signals lies from their mean, (x − x̄)ᵀ S⁻¹ (x − x̄), without
 * unit, 0 or more. NaN where a signal is missing. Makes no objects. Source: NIST/SEMATECH e-Handbook of
 * Statistical Methods 6.5.4.3.
 */
export function tSquared(model: HotellingModel, values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < model.mean.length; i++) sum += (values[i] - model.mean[i]) * pull(model, values, i);
  return sum;
}

/**
 * A signal each: T² less the T² of the other signals alone, 0 or more. Large: that signal does not fit the
 * others.
 * Source: R. L. Mason, N. D. Tracy and J. C. Young, "Decomposition of T² for multivariate control chart
 * interpretation", Journal of Quality Technology 27 (1995), from memory; here in one step, by the inverse of a
 * partitioned matrix.
 */
export function contributions(model: HotellingModel, values: ArrayLike<number>): number[] {
  return model.precision.map((row, i) => {
    const share = pull(model, values, i);
    return (share * share) / row[i];
  });
}

/**
 * The T² that a new normal reading passes with the chance `alpha`. `signals` p, `readings` m > p: how many
 * independent readings mean and covariance rest on; readings that follow their neighbours count for fewer.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.5.4.3, phase II:
 * p(m + 1)(m − 1)/(m² − mp) F(p, m − p).
 */
export function newReadingLimit(signals: number, readings: number, alpha: number): number {
  const [p, m] = [signals, readings];
  return ((p * (m + 1) * (m - 1)) / (m * m - m * p)) * fQuantile(1 - alpha, p, m - p);
}

/**
 * The same for one of the m > p + 1 readings that mean and covariance themselves rest on.
 * Source: N. D. Tracy, J. C. Young and R. L. Mason, "Multivariate control charts for individual observations",
 * Journal of Quality Technology 24 (1992), from memory, phase I: (m − 1)²/m Beta(p/2, (m − p − 1)/2).
 */
export function ownReadingLimit(signals: number, readings: number, alpha: number): number {
  const [p, m] = [signals, readings];
  return (((m - 1) * (m - 1)) / m) * betaQuantile(1 - alpha, p / 2, (m - p - 1) / 2);
}
