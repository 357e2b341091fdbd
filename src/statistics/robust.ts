import { medianSorted } from "simple-statistics";

/** 1 / Φ⁻¹(3/4): makes the median absolute deviation estimate the σ of normal data. */
const madToSigma = 1.482602218505602;

/** √(π/2): makes the mean absolute deviation estimate the σ of normal data. */
const meanDeviationToSigma = 1.2533141373155003;

/** A typed array sorts numbers without a comparison function. */
function ascending(values: readonly number[]): readonly number[] {
  return Array.from(Float64Array.from(values).sort());
}

/**
 * Median and a robust standard deviation: 1.4826 × the median absolute deviation about the median.
 *
 * A coarsely quantised sensor repeats one value in more than half of its readings, and the MAD is then 0;
 * the spread falls back to 1.2533 × the mean absolute deviation about the median, which is 0 only where all
 * values are equal. `values`: finite, any order, unchanged by the call. Cost: two sorts.
 * Throws on an empty list. Source: Hampel, "The influence curve and its role in robust estimation" (1974), from memory.
 */
export function robustLocationScale(values: readonly number[]): { center: number; spread: number } {
  if (values.length === 0) throw new RangeError("robustLocationScale needs at least one value");
  const center = medianSorted(ascending(values));
  const deviations = ascending(values.map((value) => Math.abs(value - center)));
  const mad = medianSorted(deviations);
  if (mad > 0) return { center, spread: madToSigma * mad };
  let sum = 0;
  for (const deviation of deviations) sum += deviation;
  return { center, spread: (meanDeviationToSigma * sum) / deviations.length };
}
