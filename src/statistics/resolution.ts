/** Decimals beyond this come from a conversion, not from an instrument. */
const mostDecimals = 3;

/**
 * The step in which an instrument reads, in the values' own unit: the smallest difference between its readings; where
 * all are equal, the last decimal of the value. `values`: finite, at least one. Cost: a sort.
 */
export function resolutionOf(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < sorted.length; i++) {
    const step = sorted[i] - sorted[i - 1];
    // Two of the same digits may differ in their last bit.
    if (step > 1e-9 * Math.abs(sorted[i]) && step < least) least = step;
  }
  if (least < Number.POSITIVE_INFINITY) return least;
  let unit = 1;
  for (let decimals = 0; decimals < mostDecimals; decimals++) {
    const scaled = sorted[0] / unit;
    if (Math.abs(scaled - Math.round(scaled)) < 1e-6) return unit;
    unit /= 10;
  }
  return unit;
}
