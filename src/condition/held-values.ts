import type { ReadingBatch } from "../terms/batch.ts";

/** The latest valid value of each signal, and when it came; plain data. NaN where there is none. */
export interface HeldValues {
  held: number[];
  heldAtMs: number[];
  /** Signals that have ever had a valid value. */
  seen: boolean[];
}

/**
 * Marks the signals that have their first value at row `from`; returns the row before which no other signal
 * has its first, at most `to`: over such a stretch it is constant what the log can tell.
 */
export function seeSignals({ seen }: HeldValues, batch: ReadingBatch, from: number, to: number): number {
  let end = to;
  for (let s = 0; s < seen.length; s++) {
    const column = seen[s] ? undefined : batch.columns[s];
    if (column === undefined) continue;
    let row = from;
    while (row < end && Number.isNaN(column[row])) row++;
    if (row === from) seen[s] = true;
    else end = row;
  }
  return end;
}

/**
 * The values of rows `from…to` with missing ones held for up to `holdMs`, written `into` a column; the batch's own
 * where it is `complete`.
 */
export function heldColumn(
  { held, heldAtMs }: HeldValues,
  signal: number,
  { timeMs, columns }: ReadingBatch,
  from: number,
  to: number,
  complete: boolean,
  holdMs: number,
  into: Float64Array,
): Float64Array {
  const column = columns[signal];
  if (complete && column !== undefined) return column;
  let value = held[signal];
  let atMs = heldAtMs[signal];
  for (let row = from; row < to; row++) {
    const x = column === undefined ? Number.NaN : column[row];
    if (!Number.isNaN(x)) {
      value = x;
      atMs = timeMs[row];
    }
    into[row] = timeMs[row] - atMs <= holdMs ? value : Number.NaN;
  }
  return into;
}

/** Takes in what rows `from…to` leave behind. */
export function holdLast(
  { held, heldAtMs, seen }: HeldValues,
  batch: ReadingBatch,
  from: number,
  to: number,
): void {
  for (let s = 0; s < seen.length; s++) {
    const column = batch.columns[s];
    if (column === undefined || !seen[s]) continue;
    let row = to - 1;
    while (row >= from && Number.isNaN(column[row])) row--;
    if (row < from) continue;
    held[s] = column[row];
    heldAtMs[s] = batch.timeMs[row];
  }
}
