/**
 * Lag-1 autocorrelation: how alike neighbours are, −1 to 1; 0 for values that are all equal. `values`: finite,
 * in time order at even steps. Source: NIST/SEMATECH e-Handbook of Statistical Methods 1.3.5.12.
 */
export function lagOneAutocorrelation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  let products = 0;
  let squares = 0;
  let previous = 0;
  for (const value of values) {
    const deviation = value - mean;
    products += deviation * previous;
    squares += deviation * deviation;
    previous = deviation;
  }
  return squares > 0 ? products / squares : 0;
}
