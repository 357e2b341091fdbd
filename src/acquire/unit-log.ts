import { relative } from "node:path";
import { signalsOf } from "../fleet/signals.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { LateRows, ReadingBatch } from "../terms/batch.ts";
import { type Channel, channels } from "../terms/channels.ts";
import { visible } from "../terms/text.ts";
import { createDecoder, type RowBlock } from "./decode.ts";
import { batchRows, type Latest, rowIntake } from "./intake.ts";
import type { LogFile } from "./log-file.ts";
import type { LogReader } from "./log-reader.ts";
import { type LogStatus, logStatus, newTally, reject, type Tally } from "./log-status.ts";
import { mergeByTime } from "./merge.ts";
import { newOrder, type OrderState } from "./order.ts";
import type { Rejected } from "./row-collector.ts";
import { isGzip } from "./source.ts";
import { readSpan, type SpanAside } from "./span.ts";
import { timesOf } from "./sparse-index.ts";
import { unitFiles } from "./unit-files.ts";
import { zoneReader } from "./zone.ts";

/** Everything that reading a unit's logs rests on. Plain data, part of a checkpoint; as text by `stateText`. */
export interface UnitLogState extends Tally {
  readonly version: 1;
  readonly order: OrderState;
  readonly files: readonly LogFile[];
  readonly gone: readonly LogFile[];
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
  takeLate(): LateRows | undefined;
  /** Times of the newest rows since the last call that were refused as too far ahead, ms. */
  takeRefused(): readonly number[];
  status(): LogStatus;
  /**
   * The readings of `fromMs` and later, but before `toMs`, that `read` has come past, once more: from the
   * logs that are still there, in order as if they were the only rows. Only the parts of the logs that can
   * hold them are read. It may run at any time, and changes nothing about `read`. `aside` hears of late rows
   * and of readings that are not to be had any more.
   */
  readSpan(fromMs: number, toMs: number, aside?: SpanAside): AsyncGenerator<ReadingBatch>;
  /** The earliest time of the rows of those logs that are still there, ms, as far as they were read; null before the first. */
  firstMs(): number | null;
  /** Where reading stands; true between reads and whenever `read` has just given a batch. */
  save(): UnitLogState;
}

/** Opens a unit's logs, from the beginning or from where a checkpoint stood. Holds no file open between reads. */
export function openUnitLog(
  unit: Unit,
  fleet: Fleet,
  { saved, latest }: { readonly saved?: UnitLogState; readonly latest?: Latest } = {},
): UnitLog {
  const signals = signalsOf(unit);
  const zone = zoneReader(fleet.timezone);
  const decoder = createDecoder(unit, fleet.timezone, zone);
  const withinMs = fleet.orderWithinMs;
  const order = saved === undefined ? newOrder() : structuredClone(saved.order);
  const tally = newTally(saved);
  const present = new Set<number>(saved?.present);
  let paths: readonly string[] = [];
  const files = unitFiles(decoder, zone, saved);
  /** Bytes after the last complete record, by path. */
  const rests = new Map<string, Buffer>();
  let reading: ReadonlyMap<LogFile, LogReader> = new Map();

  const intake = rowIntake(signals.length, withinMs, order, tally, present, latest);
  const named = (file: LogFile): string => visible(relative(fleet.logs, file.path));

  const onRejected = (file: string, { line, why }: Rejected): void => reject(tally, { file, line, why });

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
      intake.begin();
      const readers = await files.look(paths, onRejected);
      for (const reader of readers) rests.delete(reader.file.path);
      reading = new Map(readers.map((reader) => [reader.file, reader]));
      for await (const turned of mergeByTime(readers, intake)) {
        for (const reader of turned) seePresent(reader);
        yield intake.batch();
      }
      for (const reader of readers) {
        seePresent(reader);
        if (reader.rest.length > 0) rests.set(reader.file.path, Buffer.from(reader.rest));
      }
      reading = new Map();
      if (intake.rows() > 0 || intake.lateRows() > 0) yield intake.batch();
    },

    flush() {
      const ready: { file: LogFile; block: RowBlock; row: number }[] = [];
      for (const file of files.now()) {
        const rest = rests.get(file.path);
        if (rest === undefined || file.trouble !== null) continue;
        const text = rest.toString("base64");
        if (file.taken === text) continue;
        const block = decoder.decode(file.decode, rest, true);
        for (const rejected of block.rejected) onRejected(file.path, rejected);
        for (let row = 0; row < block.rows; row++) ready.push({ file, block, row });
        file.taken = text;
        file.rowsTaken = block.rows;
        file.rejectedTaken = block.rejected.length;
        file.takenMs = block.timeMs[block.rows - 1] ?? null;
        if (block.state.problem !== null) file.decode = block.state;
      }
      ready.sort((a, b) => (a.block.timeMs[a.row] ?? 0) - (b.block.timeMs[b.row] ?? 0));
      for (const { file, block, row } of ready) intake.takeRow(file, block, row);
      intake.release();
      return intake.rows() > 0 ? intake.batch() : undefined;
    },

    takeLate: () => (intake.lateRows() > 0 ? intake.lateBatch() : undefined),
    takeRefused: intake.takeRefused,

    status() {
      const has = (channel: Channel): boolean => [...present].some((i) => signals[i]?.channel === channel);
      const bytesRead = (file: LogFile): number =>
        isGzip(file.path) ? (reading.get(file)?.fileBytes?.() ?? 0) : file.print.offset;
      return logStatus(tally, files.now(), channels.filter(has), named, bytesRead);
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

    firstMs: () => {
      const firsts = files.now().map(({ index, takenMs }) => timesOf(index)?.fromMs ?? takenMs);
      const known = firsts.filter((ms) => ms !== null);
      return known.length === 0 ? null : Math.min(...known);
    },

    save: () =>
      structuredClone({
        version: 1 as const,
        order,
        files: files.now(),
        gone: files.gone(),
        ...tally,
        present: [...present],
      }),
  };
}
