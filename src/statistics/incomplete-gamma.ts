import { gammaln } from "simple-statistics";
import { continuedFraction } from "./continued-fraction.ts";

/**
 * Regularised upper incomplete gamma function Q(a, x) = Γ(a, x)/Γ(a); a > 0, x ≥ 0. Small values keep their
 * digits.
 * Source: NIST DLMF 8.7.1 (series of the lower function) below x = a + 1, the even part of 8.9.2 above.
 */
export function upperGamma(a: number, x: number): number {
  if (x <= 0) return 1;
  const front = Math.exp(a * Math.log(x) - x - gammaln(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; term > sum * 1e-17; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return 1 - front * sum;
  }
  return (
    front /
    continuedFraction(
      (n) => n * (a - n),
      (n) => x + 2 * n + 1 - a,
    )
  );
}
