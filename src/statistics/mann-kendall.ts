import { normalUpperTail } from "./normal.ts";

export interface MannKendall {
  /** Pairs that rise less pairs that fall. */
  readonly s: number;
  /** Variance of `s` where there is no trend. */
  readonly variance: number;
  /** Standard normal score of `s`, with the correction for continuity. */
  readonly z: number;
  /** Two-sided: the chance of an `s` this far from 0 where there is no trend. */
  readonly p: number;
}

/**
 * Mann–Kendall test for a trend that never turns, of any shape. `values`: finite, in time order; how far apart
 * in time does not matter. `varianceFactor` makes up for values that follow their neighbours (`trend.ts`). `p`
 * is exact below ten values without ties and factor, else of the normal approximation. Cost: all pairs.
 * Source: EPA QA/G-9S, "Data Quality Assessment: Statistical Methods for Practitioners" (2006).
 */
export function mannKendall(values: readonly number[], varianceFactor = 1): MannKendall {
  const n = values.length;
  let s = 0;
  for (let i = 1; i < n; i++) {
    for (let j = 0; j < i; j++) s += Math.sign(values[i] - values[j]);
  }
  const ties = tiedGroups(values);
  let sum = spread(n);
  for (const size of ties) sum -= spread(size);
  const variance = (sum / 18) * varianceFactor;
  const z = s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  const exact = n < 10 && ties.length === 0 && varianceFactor === 1;
  return { s, variance, z, p: exact ? exactP(s, n) : 2 * normalUpperTail(Math.abs(z)) };
}

const spread = (size: number) => size * (size - 1) * (2 * size + 5);

function tiedGroups(values: readonly number[]): number[] {
  const sizes = new Map<number, number>();
  for (const value of values) sizes.set(value, (sizes.get(value) ?? 0) + 1);
  return [...sizes.values()].filter((size) => size > 1);
}

/** Counts the orders of n values by how many of their pairs fall: those of n − 1 values, the n-th at any place. */
function exactP(s: number, n: number): number {
  let orders = [1];
  for (let size = 2; size <= n; size++) {
    const more = new Array<number>(orders.length + size - 1).fill(0);
    for (const [falling, count] of orders.entries()) {
      for (let place = 0; place < size; place++) more[falling + place] += count;
    }
    orders = more;
  }
  const pairs = (n * (n - 1)) / 2;
  let total = 0;
  let asFar = 0;
  for (const [falling, count] of orders.entries()) {
    total += count;
    if (pairs - 2 * falling >= Math.abs(s)) asFar += count;
  }
  return Math.min(1, (2 * asFar) / total);
}
