import { interquartileRange } from "simple-statistics";
import { robustCovariance } from "../statistics/robust-covariance.ts";
import type { Together } from "./features.ts";

/**
 * A baseline's window is cut into so many blocks; a block's means keep what slow noise the readings have in
 * common, and a coarse sensor's steps even out in them (house choice: the window of half an hour gives minutes).
 */
export const blocksOfWindow = 30;
/** Fewer blocks say nothing of how signals move together. */
const fewestBlocks = 10;
/** A signal that never moved is given this part of its value as its spread, so that the covariance has an inverse. */
const leastShare = 1e-6;

/**
 * Distance of the quartiles of normal data, in standard deviations. A signal that had two levels in its window
 * spreads over both, where deviations about the median would see only the commoner one.
 */
const quartilesOfNormal = 1.349;

/** Means of the readings over blocks of a window; plain data. */
export interface Blocks {
  /** Which block is being filled. */
  at: number;
  sums: number[];
  counts: number[];
  /** A list a signal, all as long; null where a block has no value. */
  means: (number | null)[][];
}

export function startBlocks(signals: number): Blocks {
  return {
    at: 0,
    sums: new Array(signals).fill(0),
    counts: new Array(signals).fill(0),
    means: Array.from({ length: signals }, () => []),
  };
}

/** Takes one reading into the block `at`, which is at least the one being filled. */
export function fillBlock(blocks: Blocks, at: number, value: (signal: number) => number): void {
  if (at > blocks.at) endBlock(blocks, at);
  for (let s = 0; s < blocks.sums.length; s++) {
    const x = value(s);
    if (Number.isNaN(x)) continue;
    blocks.sums[s] += x;
    blocks.counts[s]++;
  }
}

function endBlock(blocks: Blocks, next: number): void {
  blocks.at = next;
  if (blocks.counts.every((count) => count === 0)) return;
  for (const [s, list] of blocks.means.entries()) {
    list.push(blocks.counts[s] === 0 ? null : blocks.sums[s] / blocks.counts[s]);
  }
  blocks.sums.fill(0);
  blocks.counts.fill(0);
}

/** Forgets the older half; the block being filled starts anew as number `at`. */
export function dropOlderBlocks(blocks: Blocks, at: number): void {
  endBlock(blocks, at);
  const half = (blocks.means[0]?.length ?? 0) >> 1;
  for (const list of blocks.means) list.splice(0, half);
}

/** Robust centre and covariance of the block means of all signals that every block has; null where too few. */
export function concludeBlocks(blocks: Blocks, blockMs: number): Together | null {
  endBlock(blocks, blocks.at);
  const signals: number[] = [];
  const lists: number[][] = [];
  for (const [s, list] of blocks.means.entries()) {
    const present = list.filter((x) => x !== null);
    if (present.length < list.length || present.length < fewestBlocks) continue;
    signals.push(s);
    lists.push(present);
  }
  if (signals.length === 0) return null;
  const leastSpreads = lists.map((list) =>
    Math.max(interquartileRange(list) / quartilesOfNormal, leastShare * Math.max(Math.abs(list[0]), 1)),
  );
  return { signals, blockMs, ...robustCovariance(lists, leastSpreads) };
}
