import { bisect } from "simple-statistics";
import { upperGamma } from "./incomplete-gamma.ts";

/** Past this many standard deviations the upper tail is below the smallest number. */
const farthest = 40;

/**
 * The chance that a standard normal variable is above `z`. Small chances keep their digits.
 * Source: NIST DLMF 7.11.2, erfc through the incomplete gamma function.
 */
export function normalUpperTail(z: number): number {
  const tail = upperGamma(0.5, (z * z) / 2) / 2;
  return z >= 0 ? tail : 1 - tail;
}

/** Those asked for so far: trends ask for the same one again and again, and a search takes longer than they do. */
const known = new Map<number, number>();

/** The z below which a standard normal variable is with the chance `p`, 0 to 1. Throws on another `p`. */
export function normalQuantile(p: number): number {
  let z = known.get(p);
  if (z === undefined) {
    z = findQuantile(p);
    known.set(p, z);
  }
  return z;
}

function findQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`normalQuantile: a chance is within 0 to 1, not ${p}`);
  if (p === 0) return Number.NEGATIVE_INFINITY;
  if (p === 1) return Number.POSITIVE_INFINITY;
  if (p < 0.5) return -bisect((z) => normalUpperTail(z) - p, 0, farthest, 100, 1e-14);
  return p === 0.5 ? 0 : bisect((z) => normalUpperTail(z) - (1 - p), 0, farthest, 100, 1e-14);
}
