import { gammaln } from "simple-statistics";
import { continuedFraction } from "./continued-fraction.ts";

/**
 * Regularised incomplete beta function I_x(a, b): the chance that a beta variable is at most x.
 * 0 ≤ x ≤ 1, a and b > 0. Source: NIST DLMF 8.17.22 (continued fraction), 8.17.4 (symmetry).
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(
    a * Math.log(x) + b * Math.log1p(-x) + gammaln(a + b) - gammaln(a) - gammaln(b) - Math.log(a),
  );
  const numerator = (n: number) => {
    const m = Math.floor(n / 2);
    const factor = n % 2 === 0 ? m * (b - m) : -(a + m) * (a + b + m);
    return (factor * x) / ((a + n - 1) * (a + n));
  };
  return front / continuedFraction(numerator, () => 1);
}
