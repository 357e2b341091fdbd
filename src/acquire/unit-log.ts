import { relative } from "node:path";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import { type Channel, channels } from "../terms/channels.ts";
import { visible } from "../terms/text.ts";
import { batchBuilder } from "./batch-builder.ts";
import { createDecoder } from "./decode.ts";
import { withLine } from "./line-ranges.ts";
import type { LogFile } from "./log-file.ts";
import type { LogReader } from "./log-reader.ts";
import { mergeByTime, type RowTaker } from "./merge.ts";
import { newOrder, type OrderState, orderRow, orderRun, releaseHeld, restoreOrder } from "./order.ts";
import type { Rejected } from "./row-collector.ts";
import { isGzip } from "./source.ts";
import { readSpan, type SpanAside } from "./span.ts";
import { unitFiles } from "./unit-files.ts";
import { zoneReader } from "./zone.ts";

/** At most so many rows are in a batch of `read`. */
export const batchRows = 4096;
const rejectedKept = 100;
/** Late rows that nobody takes are let go when they are so many. */
const lateKept = 256 * batchRows;

interface RejectedRow {
  readonly file: string;
  readonly line: number;
  readonly why: string;
}

/** What a unit's logs have given so far. */
export interface LogStatus {
  /** The files that are there, as they were given. */
  readonly files: readonly string[];
  /** Rows taken in order; repeats, joined, late and rejected rows are not among them. */
  readonly rows: number;
  readonly repeats: number;
  readonly joined: number;
  readonly late: number;
  readonly rejected: number;
  /** The newest first, at most 100. */
  readonly newestRejected: readonly RejectedRow[];
  /** Why the unit, or one of its files, cannot be read or has nothing to read yet; null where all is well. */
  readonly problem: string | null;
  /** Whether at least one file has given a usable header. */
  readonly readable: boolean;
  /** As the files lie on the disk, also where they are compressed. */
  readonly bytesRead: number;
  readonly bytesTotal: number;
  /** The channels that the logs have a column for. */
  readonly channels: readonly Channel[];
}

/** Everything that reading a unit's logs rests on. Plain data, part of a checkpoint. */
export interface UnitLogState {
  readonly version: 1;
  readonly order: OrderState;
  readonly files: readonly LogFile[];
  readonly gone: readonly LogFile[];
  readonly counts: { rows: number; repeats: number; joined: number; late: number; rejected: number };
  readonly newestRejected: readonly RejectedRow[];
  readonly present: readonly number[];
}

export interface UnitLog {
  /** The unit's files from now on, absolute paths; where two have one time, the first one's row goes first. */
  setFiles(files: readonly string[]): void;
  /**
   * Everything new since the last call, merged by reading time, in batches of at most 4,096 rows. A last
   * line without line end is left for later, since its writer may be in the middle of it. A batch may be
   * empty: it only gives a chance to take late rows. A batch holds only until the next is asked for.
   */
  read(): AsyncGenerator<ReadingBatch>;
  /**
   * What `read` left: last lines without line end, and rows held back by `order_within`. For the end of a
   * replay or of a single look, when nothing more is written.
   */
  flush(): ReadingBatch | undefined;
  /** Late rows since the last call, as they came; undefined where there are none. */
  takeLate(): ReadingBatch | undefined;
  status(): LogStatus;
  /**
   * The readings of `fromMs` and later, but before `toMs`, that `read` has come past, once more: from the
   * logs that are still there, in order as if they were the only rows. Only the parts of the logs that can
   * hold them are read. It may run at any time, and changes nothing about `read`. `aside` hears of late rows
   * and of readings that are not to be had any more.
   */
  readSpan(fromMs: number, toMs: number, aside?: SpanAside): AsyncGenerator<ReadingBatch>;
  /** Where reading stands; true between reads and whenever `read` has just given a batch. */
  save(): UnitLogState;
}

/** Rows of a later time are left out before they are put in order, so that a clock gone wild blinds nobody. */
export interface Latest {
  timeMs(): number;
  /** Why such a row is rejected; undefined where it is only of no interest. */
  readonly why?: string;
}

/** Opens a unit's logs, from the beginning or from where a checkpoint stood. Holds no file open between reads. */
export function openUnitLog(
  unit: Unit,
  fleet: Fleet,
  { saved, latest }: { readonly saved?: UnitLogState; readonly latest?: Latest } = {},
): UnitLog {
  const signals = signalsOf(unit);
  const decoder = createDecoder(unit, fleet.timezone, zoneReader(fleet.timezone));
  const withinMs = fleet.orderWithinMs;
  const order = saved === undefined ? newOrder() : restoreOrder(structuredClone(saved.order));
  const counts = { rows: 0, repeats: 0, joined: 0, late: 0, rejected: 0, ...saved?.counts };
  const present = new Set<number>(saved?.present);
  let newestRejected: readonly RejectedRow[] = saved?.newestRejected ?? [];
  let paths: readonly string[] = [];
  const files = unitFiles(decoder, saved);
  /** Bytes after the last complete record, by path. */
  const rests = new Map<string, Buffer>();
  let reading: ReadonlyMap<LogFile, LogReader> = new Map();

  const batch = batchBuilder(signals.length, batchRows);
  const late = batchBuilder(signals.length, 64);
  const values = new Float64Array(signals.length);
  let latestMs = Number.POSITIVE_INFINITY;

  const named = (file: LogFile): string => visible(relative(fleet.logs, file.path));

  function reject(file: string, { line, why }: Pick<Rejected, "line" | "why">): void {
    counts.rejected++;
    newestRejected = [{ file, line, why }, ...newestRejected.slice(0, rejectedKept - 1)];
  }

  function takeRow(file: LogFile, block: NonNullable<LogReader["block"]>, row: number): boolean {
    const timeMs = block.timeMs[row] ?? Number.NaN;
    let pause = false;
    if (timeMs > latestMs) {
      file.ahead = withLine(file.ahead, block.line[row]);
      if (latest?.why !== undefined) reject(file.path, { line: block.line[row] ?? 0, why: latest.why });
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
        if (late.rows() >= lateKept) late.take(present);
        late.add(timeMs, values);
        pause = late.rows() % batchRows === 0;
        break;
      case "conflict":
        reject(file.path, { line: block.line[row] ?? 0, why: "same time as an earlier row, other values" });
        break;
    }
    return pause || batch.rows() >= batchRows;
  }

  /** Why files that can be read have given no reading. */
  function whyNothing(there: readonly LogFile[], readable: boolean): string | null {
    const [first] = there;
    const { rows, repeats, joined, late: lateRows, rejected } = counts;
    if (first === undefined || rows + repeats + joined + lateRows > 0) return null;
    const [newest] = newestRejected;
    if (newest !== undefined) {
      return `${named(first)}: none of its ${rejected} rows can be read; line ${newest.line}: ${newest.why}`;
    }
    if (readable) return `${named(first)}: no row so far; waiting for its first reading`;
    const empty = first.seen?.bytes === 0 ? "empty so far" : "no complete header so far";
    return `${named(first)}: ${empty}; waiting for its first line`;
  }

  function seePresent({ file, block }: LogReader): void {
    for (const column of decoder.layout(file.decode)?.columns ?? []) present.add(column.signal);
    for (const [signal, column] of block?.columns.entries() ?? [])
      if (column !== undefined) present.add(signal);
  }

  return {
    setFiles(given) {
      paths = [...given];
    },

    async *read() {
      latestMs = latest?.timeMs() ?? Number.POSITIVE_INFINITY;
      const readers = await files.look(paths, reject);
      for (const reader of readers) rests.delete(reader.file.path);
      reading = new Map(readers.map((reader) => [reader.file, reader]));
      let run: ReadingBatch | undefined;
      const take: RowTaker = {
        row: (reader, row) => reader.block !== undefined && takeRow(reader.file, reader.block, row),
        run({ block }, from, to, beforeMs) {
          if (block === undefined || batch.rows() > 0) return 0;
          const { timeMs, columns } = block;
          const end = Math.min(to, from + batchRows);
          const rows = orderRun(
            order,
            withinMs,
            timeMs,
            columns,
            from,
            end,
            Math.min(latestMs, beforeMs - 1),
          );
          if (rows === 0) return 0;
          counts.rows += rows;
          run = {
            rows,
            timeMs: timeMs.subarray(from, from + rows),
            columns: columns.map((column) => column?.subarray(from, from + rows)),
          };
          return rows;
        },
      };
      for await (const _ of mergeByTime(readers, take)) {
        for (const reader of readers) seePresent(reader);
        yield run ?? batch.take(present);
        run = undefined;
      }
      for (const reader of readers) {
        seePresent(reader);
        if (reader.rest.length > 0) rests.set(reader.file.path, Buffer.from(reader.rest));
      }
      reading = new Map();
      if (batch.rows() > 0 || late.rows() > 0) yield batch.take(present);
    },

    flush() {
      const ready: { file: LogFile; block: NonNullable<LogReader["block"]>; row: number }[] = [];
      for (const file of files.now()) {
        const rest = rests.get(file.path);
        if (rest === undefined || file.trouble !== null) continue;
        const text = rest.toString("base64");
        if (file.taken === text) continue;
        const block = decoder.decode(file.decode, rest, true);
        for (const rejected of block.rejected) reject(file.path, rejected);
        for (let row = 0; row < block.rows; row++) ready.push({ file, block, row });
        file.taken = text;
        file.rowsTaken = block.rows;
        file.rejectedTaken = block.rejected.length;
        file.takenMs = block.timeMs[block.rows - 1] ?? null;
        if (block.state.problem !== null) file.decode = block.state;
      }
      ready.sort((a, b) => (a.block.timeMs[a.row] ?? 0) - (b.block.timeMs[b.row] ?? 0));
      for (const { file, block, row } of ready) takeRow(file, block, row);
      releaseHeld(order, batch.add);
      return batch.rows() > 0 ? batch.take(present) : undefined;
    },

    takeLate: () => (late.rows() > 0 ? late.take(present) : undefined),

    status() {
      const there = files.now();
      const trouble = there.find((file) => file.trouble !== null || file.decode.problem !== null);
      const readable = there.some((file) => file.decode.header !== null);
      const problem =
        trouble === undefined
          ? whyNothing(there, readable)
          : `${named(trouble)}: ${trouble.trouble ?? trouble.decode.problem}`;
      const total = (file: LogFile): number => file.seen?.bytes ?? 0;
      const far = (file: LogFile): number =>
        isGzip(file.path) ? (reading.get(file)?.fileBytes?.() ?? 0) : file.print.offset;
      return {
        files: there.map((file) => file.path),
        ...counts,
        newestRejected,
        problem,
        readable,
        bytesRead: there.reduce((sum, f) => sum + (f.done ? total(f) : Math.min(far(f), total(f))), 0),
        bytesTotal: there.reduce((sum, f) => sum + total(f), 0),
        channels: channels.filter((channel) => [...present].some((i) => signals[i]?.channel === channel)),
      };
    },

    readSpan: (fromMs, toMs, aside = {}) =>
      readSpan(
        {
          files: files.now(),
          gone: files.gone(),
          paths,
          decoder,
          signals: signals.length,
          present: new Set(present),
          withinMs,
          batchRows,
        },
        fromMs,
        toMs,
        aside,
      ),

    save: () =>
      structuredClone({
        version: 1 as const,
        order,
        files: files.now(),
        gone: files.gone(),
        counts,
        newestRejected,
        present: [...present],
      }),
  };
}
