/**
 * x^y for x ≥ 0, the same to the last bit on every version of Node, which `Math.pow` and `**` are not.
 *
 * Gives 0 for x = 0 and y > 0; NaN for x < 0.
 */
export function power(x: number, y: number): number {
  return Math.exp(y * Math.log(x));
}
