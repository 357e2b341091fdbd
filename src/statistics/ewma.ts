/**
 * Exponentially weighted mean and variance of a signal; plain data, constant size.
 * `weight` is 0 before the first value and grows to 1: the share of the weights that real values hold.
 */
export interface Ewma {
  weight: number;
  mean: number;
  variance: number;
}

/**
 * An average with no past: its first values count alike, so that it does not hang on to the first one.
 * With `target` it starts there instead, as on a control chart (z₀ = μ₀).
 */
export function startEwma(target?: number): Ewma {
  return target === undefined
    ? { weight: 0, mean: 0, variance: 0 }
    : { weight: 1, mean: target, variance: 0 };
}

/**
 * The share λ that a value gets after a step of `dtMs` in an average with the time constant `tauMs`:
 * 1 − exp(−Δt/τ). So the average does not depend on how often a logger samples. After a long gap the share is near
 * 1; a caller that does not want one value to stand for a gap caps the step.
 */
export function ewmaShare(dtMs: number, tauMs: number): number {
  return -Math.expm1(-dtMs / tauMs);
}

/**
 * Takes one value in with the share `lambda` (0 to 1), changing `state`. A missing value (NaN) changes nothing.
 * `variance` is that of the weighted values about their own mean.
 * Source: T. Finch, "Incremental calculation of weighted mean and variance" (2009), after D. H. D. West,
 * "Updating mean and variance estimates: an improved method", CACM 22 (1979); from memory.
 */
export function stepEwma(state: Ewma, value: number, lambda: number): void {
  if (Number.isNaN(value) || lambda === 0) return;
  state.weight += lambda * (1 - state.weight);
  const gain = lambda / state.weight;
  const difference = value - state.mean;
  state.mean += gain * difference;
  state.variance = (1 - gain) * (state.variance + gain * difference * difference);
}

/**
 * Control limits of an average that started at `target`, for independent values with standard deviation
 * `sigma`: `width` standard deviations of the average either side. `after` is how many values it has taken in;
 * without it, the limits that it settles to. Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4.
 */
export function ewmaLimits(
  target: number,
  sigma: number,
  lambda: number,
  width: number,
  after = Number.POSITIVE_INFINITY,
): { lower: number; upper: number } {
  const settling = lambda === 1 ? 1 : -Math.expm1(2 * after * Math.log1p(-lambda));
  const half = width * sigma * Math.sqrt((lambda / (2 - lambda)) * settling);
  return { lower: target - half, upper: target + half };
}
