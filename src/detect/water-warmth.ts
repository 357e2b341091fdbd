/**
 * What the water's temperature makes of the gas pressure, learned from a day to the next at the same hour: so the
 * time of day has no part in it, nor has steady fouling. A line through the differences, drawn towards none by
 * how little they say: the mean of the slope that is known (prior, σ²) and the one that is seen.
 * Source: ridge regression, A. E. Hoerl and R. W. Kennard, Technometrics 12 (1970), from memory.
 */

/** Running sums over differences of a day: K and shares of clean. Plain data. */
export interface Warmth {
  weight: number;
  warming: number;
  growth: number;
  product: number;
  warming2: number;
  growth2: number;
}

/** What a kelvin may do before the water has been seen to move: none, and one standard deviation. Gas takes 1/293 of its volume a K (physics of gases). */
const priorPerK = 0.004;
/** A share so large per K is not the water's. */
const mostPerK = 0.01;
/** The hours of one day move together: so many differences say as much as one (twelve points a day). */
const alike = 12;
/** Growth within a day beyond this is another event than warmth. */
const largest = 0.1;
/** One more difference leaves so much of those before: some ten days of twelve points. */
const kept = 1 - 1 / 120;

export function startWarmth(): Warmth {
  return { weight: 0, warming: 0, growth: 0, product: 0, warming2: 0, growth2: 0 };
}

/** Takes in how much warmer the water is than a day before, K, and how much the gas has grown, a share of clean. */
export function takeIn(sums: Warmth, warming: number, growth: number): void {
  if (Math.abs(growth) > largest) return;
  sums.weight = kept * sums.weight + 1;
  sums.warming = kept * sums.warming + warming;
  sums.growth = kept * sums.growth + growth;
  sums.product = kept * sums.product + warming * growth;
  sums.warming2 = kept * sums.warming2 + warming * warming;
  sums.growth2 = kept * sums.growth2 + growth * growth;
}

/** Share of clean by which gas pressure rises a K of water, and what that may be wrong by, one standard deviation. */
export function shareOfWarmth(sums: Warmth): { readonly perK: number; readonly doubt: number } {
  const { weight, warming, growth, product, warming2, growth2 } = sums;
  if (weight === 0) return { perK: 0, doubt: priorPerK };
  const spread = warming2 - (warming * warming) / weight;
  const noise = (growth2 - (growth * growth) / weight) / weight;
  const unsure = (alike * noise) / (priorPerK * priorPerK);
  if (!(spread + unsure > 0)) return { perK: 0, doubt: priorPerK };
  const slope = (product - (warming * growth) / weight) / (spread + unsure);
  return {
    perK: Math.min(mostPerK, Math.max(-mostPerK, slope)),
    doubt: priorPerK * Math.sqrt(unsure / (spread + unsure)),
  };
}
