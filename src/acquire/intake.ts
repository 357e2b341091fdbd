import type { LateRows, ReadingBatch } from "../terms/batch.ts";
import { batchBuilder } from "./batch-builder.ts";
import type { RowBlock } from "./decode.ts";
import { withLine } from "./line-ranges.ts";
import type { LogFile } from "./log-file.ts";
import { reject, type Tally } from "./log-status.ts";
import type { RowTaker } from "./merge.ts";
import { type OrderState, orderRow, orderRun, releaseHeld } from "./order.ts";

/** At most so many rows are in a batch of `read`. */
export const batchRows = 4096;
/** Late rows that nobody takes are let go when they are so many. */
const lateKept = 256 * batchRows;

/** So many refused rows are told of one by one. */
const refusedKept = 8;

/** Rows of a later time are left out before they are put in order, so that a clock gone wild blinds nobody. */
export interface Latest {
  timeMs(): number;
  /** Why such a row is rejected; undefined where it is only of no interest. */
  readonly why?: string;
}

/** Puts a unit's rows in order, counts them, and collects those that are taken into batches. */
export interface Intake extends RowTaker {
  /** Asks anew which rows are too far ahead. */
  begin(): void;
  takeRow(file: LogFile, block: RowBlock, row: number): boolean;
  /** Lets go of the rows held back by `order_within`. */
  release(): void;
  /** The rows taken since the last call; it may have none. Holds only until the next row is taken. */
  batch(): ReadingBatch;
  /** The late rows since the last call. */
  lateBatch(): LateRows;
  takeRefused(): readonly number[];
  rows(): number;
  lateRows(): number;
}

/** Time of the last row that went before a late one, ms; NaN where the late one only brings other channels. */
function cameAfter({ last }: OrderState, values: Float64Array): number {
  if (last === null) return Number.NaN;
  return last.values.some((value, i) => !Number.isNaN(value) && !Number.isNaN(values[i]))
    ? last.timeMs
    : Number.NaN;
}

/** `present`: the signals, by index, of which every batch has a column. `tally` and `order` are changed. */
export function rowIntake(
  signals: number,
  withinMs: number,
  order: OrderState,
  tally: Tally,
  present: ReadonlySet<number>,
  latest?: Latest,
): Intake {
  const { counts } = tally;
  const batch = batchBuilder(signals);
  const late = batchBuilder(signals);
  const values = new Float64Array(signals);
  let afterMs: number[] = [];
  let refusedMs: number[] = [];
  let latestMs = Number.POSITIVE_INFINITY;
  let run: ReadingBatch | undefined;

  function takeLate(): LateRows {
    const given = { ...late.take(present), afterMs: Float64Array.from(afterMs) };
    afterMs = [];
    return given;
  }

  function takeRow(file: LogFile, block: RowBlock, row: number): boolean {
    const timeMs = block.timeMs[row] ?? Number.NaN;
    let pause = false;
    if (timeMs > latestMs) {
      file.ahead = withLine(file.ahead, block.line[row]);
      if (latest?.why !== undefined) {
        reject(tally, { file: file.path, line: block.line[row] ?? 0, why: latest.why });
        refusedMs = [...refusedMs.slice(1 - refusedKept), timeMs];
      }
      return false;
    }
    for (let i = 0; i < values.length; i++) values[i] = block.columns[i]?.[row] ?? Number.NaN;
    switch (orderRow(order, withinMs, timeMs, values, batch.add)) {
      case "taken":
        counts.rows++;
        break;
      case "repeat":
        counts.repeats++;
        break;
      case "joined":
        counts.joined++;
        break;
      case "late":
        counts.late++;
        if (late.rows() >= lateKept) takeLate();
        late.add(timeMs, values);
        afterMs.push(cameAfter(order, values));
        pause = late.rows() % batchRows === 0;
        break;
      case "conflict":
        reject(tally, {
          file: file.path,
          line: block.line[row] ?? 0,
          why: "same time as an earlier row, other values",
        });
        break;
    }
    return pause || batch.rows() >= batchRows;
  }

  return {
    begin() {
      latestMs = latest?.timeMs() ?? Number.POSITIVE_INFINITY;
    },
    takeRow,
    row: ({ file, block }, row) => block !== undefined && takeRow(file, block, row),
    run({ block }, from, to, beforeMs) {
      if (block === undefined || batch.rows() > 0) return 0;
      const { timeMs, columns } = block;
      const end = Math.min(to, from + batchRows);
      const beforeTurn = Math.min(latestMs, beforeMs - 1);
      const rows = orderRun(order, withinMs, timeMs, columns, from, end, beforeTurn);
      if (rows === 0) return 0;
      counts.rows += rows;
      run = {
        rows,
        timeMs: timeMs.subarray(from, from + rows),
        columns: columns.map((column) => column?.subarray(from, from + rows)),
      };
      return rows;
    },
    release: () => releaseHeld(order, batch.add),
    batch() {
      const given = run ?? batch.take(present);
      run = undefined;
      return given;
    },
    lateBatch: takeLate,
    takeRefused() {
      const given = refusedMs;
      refusedMs = [];
      return given;
    },
    rows: batch.rows,
    lateRows: late.rows,
  };
}
