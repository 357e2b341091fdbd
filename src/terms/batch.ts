/**
 * One unit's readings as columns.
 *
 * `timeMs` rises; two rows of one time mean that the second completes the first (channels that came
 * in another row or file). `columns[i]` is channel `i` of `channels`, then the further columns of
 * channels that were mapped to several (`signalsOf`). A column that the log lacks is `undefined`;
 * a missing value is NaN. Units of the values: `channelUnit`.
 */
export interface ReadingBatch {
  readonly rows: number;
  readonly timeMs: Float64Array;
  readonly columns: readonly (Float64Array | undefined)[];
}
