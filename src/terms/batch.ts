/**
 * One unit's readings as columns.
 *
 * `timeMs` rises; two rows of one time mean that the second completes the first (channels that came
 * in another row or file). `columns[i]` is channel `i` of `channels`, then the further columns of
 * channels that were mapped to several (`signalsOf`). A column that the log lacks is `undefined`;
 * a missing value is NaN, the failure that a 4–20 mA loop signals −∞ or +∞. Units of the values: `channelUnit`.
 */
export interface ReadingBatch {
  readonly rows: number;
  readonly timeMs: Float64Array;
  readonly columns: readonly (Float64Array | undefined)[];
}

/** When late readings came: after the reading of `afterMs`; NaN where they only carry other channels. */
export interface LateTimes {
  readonly timeMs: Float64Array;
  readonly afterMs: Float64Array;
}

/** Late readings as they came, with when that was. */
export interface LateRows extends ReadingBatch, LateTimes {}

/** Rows `from` up to `to` of a batch, sharing its memory. */
export function rowsOf(batch: ReadingBatch, from: number, to: number): ReadingBatch {
  if (from === 0 && to === batch.rows) return batch;
  return {
    rows: to - from,
    timeMs: batch.timeMs.subarray(from, to),
    columns: batch.columns.map((column) => column?.subarray(from, to)),
  };
}
