import { bisect } from "simple-statistics";
import { incompleteBeta } from "./incomplete-beta.ts";
import { upperGamma } from "./incomplete-gamma.ts";

function checkChance(name: string, p: number): void {
  if (!(p > 0 && p < 1)) throw new RangeError(`${name}: a chance is above 0 and below 1, not ${p}`);
}

/** The value below which a beta variable with the shapes `a` and `b` (> 0) is with the chance `p`, 0 < p < 1. */
export function betaQuantile(p: number, a: number, b: number): number {
  checkChance("betaQuantile", p);
  return bisect((x) => incompleteBeta(x, a, b) - p, 0, 1, 100, 1e-15);
}

/**
 * The value below which an F variable with `d1` and `d2` degrees of freedom (> 0) is with the chance `p`,
 * 0 < p < 1. It is d₂x/(d₁(1 − x)) of a beta variable x with the shapes d₁/2, d₂/2.
 * Source: Abramowitz and Stegun 26.6.2, from memory.
 */
export function fQuantile(p: number, d1: number, d2: number): number {
  checkChance("fQuantile", p);
  const x = betaQuantile(p, d1 / 2, d2 / 2);
  return (d2 * x) / (d1 * (1 - x));
}

/** The value below which a χ² variable with `degrees` (> 0, not always whole) is with the chance `p`, 0 < p < 1. */
export function chiSquareQuantile(p: number, degrees: number): number {
  checkChance("chiSquareQuantile", p);
  const above = (x: number) => 1 - p - upperGamma(degrees / 2, x / 2);
  let high = degrees + 1;
  while (above(high) < 0) high *= 2;
  return bisect(above, 0, high, 200, high * 1e-15);
}
