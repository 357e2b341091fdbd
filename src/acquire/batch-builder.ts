import type { ReadingBatch } from "../terms/batch.ts";

/** Collects rows into batches: typed arrays that grow, a column made where a value first needs it. */
export interface BatchBuilder {
  readonly rows: () => number;
  /** Adds a row; `values` by signal index, NaN where missing. */
  add(timeMs: number, values: ArrayLike<number>): void;
  /** The rows so far as a batch with a column for each index in `present`; the builder is empty then. */
  take(present: ReadonlySet<number>): ReadingBatch;
}

const fewestRows = 16;

/** Room is made for as many rows as the last batch had: a log that is followed brings one at a time, and a fleet has many. */
export function batchBuilder(signals: number): BatchBuilder {
  let capacity = fewestRows;
  let rows = 0;
  let timeMs = new Float64Array(capacity);
  let columns = Array.from({ length: signals }, () => new Float64Array(0));

  function ensure(index: number): Float64Array {
    const column = columns[index];
    if (column !== undefined && column.length === capacity) return column;
    const next = new Float64Array(capacity).fill(Number.NaN);
    if (column !== undefined) next.set(column);
    columns[index] = next;
    return next;
  }

  return {
    rows: () => rows,
    add(time, values) {
      if (rows === capacity) {
        capacity *= 2;
        const longer = new Float64Array(capacity);
        longer.set(timeMs);
        timeMs = longer;
      }
      timeMs[rows] = time;
      for (let i = 0; i < signals; i++) {
        const value = values[i] ?? Number.NaN;
        if (!Number.isNaN(value)) ensure(i)[rows] = value;
      }
      rows++;
    },
    take(present) {
      const given = columns;
      const batch: ReadingBatch = {
        rows,
        timeMs: timeMs.slice(0, rows),
        columns: given.map((column, i) => {
          if (column.length > 0 || present.has(i)) return ensure(i).slice(0, rows);
          return undefined;
        }),
      };
      capacity = Math.max(fewestRows, rows);
      rows = 0;
      timeMs = new Float64Array(capacity);
      columns = Array.from({ length: signals }, () => new Float64Array(0));
      return batch;
    },
  };
}
