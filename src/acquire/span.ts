import type { ReadingBatch } from "../terms/batch.ts";
import { batchBuilder } from "./batch-builder.ts";
import type { Decoder } from "./decode.ts";
import { type LogFile, lookAt } from "./log-file.ts";
import { mergeByTime, type RowTaker } from "./merge.ts";
import { newOrder, orderRow, orderRun, releaseHeld } from "./order.ts";
import { isGzip } from "./source.ts";
import { spanReader } from "./span-reader.ts";
import { timesOf } from "./sparse-index.ts";

/** Readings of a span that are not to be had any more. */
export interface SpanLack {
  /** The log that held them, by its path when it was last read. */
  readonly file: string;
  /** Between these times of the span, ms, both included. */
  readonly fromMs: number;
  readonly toMs: number;
  /** In plain words, to follow the log's name. */
  readonly why: string;
}

/** Who hears of what is not among a span's batches. */
export interface SpanAside {
  /** Late rows, as they came. */
  late?(batch: ReadingBatch): void;
  lacking?(lack: SpanLack): void;
}

/** What a span is read from. */
export interface SpanLogs {
  readonly files: readonly LogFile[];
  readonly gone: readonly LogFile[];
  /** Where a log that was renamed since it was read may be. */
  readonly paths: readonly string[];
  readonly decoder: Decoder;
  /** Columns in a batch, and those that are given even where no row has a value. */
  readonly signals: number;
  readonly present: ReadonlySet<number>;
  readonly withinMs: number;
  /** At most so many rows are in a batch. */
  readonly batchRows: number;
}

/** Where a log is now; a reason where it is not to be had. */
async function whereIs(file: LogFile, paths: readonly string[]): Promise<LogFile | string> {
  const own = await lookAt(file.path, file, []);
  if (own.kind === "unreadable") return own.file.trouble ?? "it cannot be read";
  if (own.kind === "unchanged") return own.file;
  if (own.kind === "read" && own.file.print.offset === file.print.offset) return own.file;
  for (const path of paths) {
    if (path === file.path) continue;
    const other = await lookAt(path, undefined, [file]);
    if (other.kind === "read" && other.file.print.offset > 0) return other.file;
  }
  return "the log is gone";
}

/** The logs without those that hold what another holds too, as a log beside its compressed copy. */
function eachOnce(files: readonly LogFile[]): LogFile[] {
  const kept: LogFile[] = [];
  for (const file of files) {
    const { offset, tail } = file.print;
    const at = kept.findIndex(({ print }) => offset > 0 && print.offset === offset && print.tail === tail);
    if (at < 0) kept.push(file);
    else if (isGzip(kept[at].path)) kept[at] = file;
  }
  return kept;
}

/**
 * The readings of `fromMs` and later, but before `toMs`, that `read` has come past, from the logs that are
 * still there: by the rules of `read`, as if these were the only rows. A batch has at most `batchRows` rows.
 */
export async function* readSpan(
  { files, gone, paths, decoder, signals, present, withinMs, batchRows }: SpanLogs,
  fromMs: number,
  toMs: number,
  aside: SpanAside,
): AsyncGenerator<ReadingBatch> {
  const holds = (file: LogFile): boolean => {
    const times = timesOf(file.index);
    return file.rowsTaken > 0 || (times !== undefined && times.toMs >= fromMs && times.fromMs < toMs);
  };
  const told = new Set<string>();
  const lack = ({ path, index, takenMs }: LogFile, why: string, offset = 0): void => {
    const times = timesOf(index, offset) ?? { fromMs: takenMs ?? toMs, toMs: takenMs ?? fromMs };
    const firstMs = Math.max(fromMs, times.fromMs);
    const lastMs = Math.min(toMs - 1, times.toMs);
    if (told.has(path) || firstMs > lastMs) return;
    told.add(path);
    aside.lacking?.({ file: path, fromMs: firstMs, toMs: lastMs, why });
  };

  // Reading may go on meanwhile, and changes the files.
  const wanted = files.filter(holds).map((file) => ({ ...file }));
  for (const file of gone) if (holds(file)) lack(file, "the log is gone");
  const there: LogFile[] = [];
  for (const file of wanted) {
    const found = await whereIs(file, paths);
    if (typeof found === "string") lack(file, found);
    else there.push({ ...found, rowsTaken: file.rowsTaken, taken: file.taken });
  }
  const readers = eachOnce(there).map((file) =>
    spanReader(file, fromMs, toMs, decoder, (why, offset) => lack(file, why, offset)),
  );

  const order = newOrder();
  const batch = batchBuilder(signals);
  const late = batchBuilder(signals);
  const values = new Float64Array(signals);
  let run: ReadingBatch | undefined;
  const take: RowTaker = {
    row({ block }, row) {
      if (block === undefined) return false;
      const timeMs = block.timeMs[row];
      for (let i = 0; i < signals; i++) values[i] = block.columns[i]?.[row] ?? Number.NaN;
      if (orderRow(order, withinMs, timeMs, values, batch.add) === "late") {
        late.add(timeMs, values);
        if (late.rows() >= batchRows) aside.late?.(late.take(present));
      }
      return batch.rows() >= batchRows;
    },
    run({ block }, from, to, beforeMs) {
      if (block === undefined || batch.rows() > 0) return 0;
      const { timeMs, columns } = block;
      const end = Math.min(to, from + batchRows);
      const rows = orderRun(order, withinMs, timeMs, columns, from, end, beforeMs - 1);
      if (rows === 0) return 0;
      run = {
        rows,
        timeMs: timeMs.subarray(from, from + rows),
        columns: columns.map((column) => column?.subarray(from, from + rows)),
      };
      return rows;
    },
  };
  for await (const _ of mergeByTime(readers, take)) {
    yield run ?? batch.take(present);
    run = undefined;
  }
  releaseHeld(order, batch.add);
  if (late.rows() > 0) aside.late?.(late.take(present));
  if (batch.rows() > 0) yield batch.take(present);
}
