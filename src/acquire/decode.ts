import { signalsOf } from "../fleet/signals.ts";
import type { Unit } from "../fleet/unit.ts";
import { type Header, readBeginning } from "./beginning.ts";
import { cellsOf } from "./csv.ts";
import { type Delimiter, type Layout, layoutOf } from "./dialect.ts";
import { isComment, parting, type RecordRange, walkRecords } from "./records.ts";
import {
  type CollectedRows,
  newRowSpace,
  type RowCollector,
  type RowSpace,
  rowCollector,
} from "./row-collector.ts";
import { newTimeMemory, readTime, type TimeMemory } from "./time.ts";
import { timeCell } from "./time-cell.ts";
import type { ZoneReader } from "./zone.ts";

/** Where decoding stands in a log, between two records. Plain data, part of a checkpoint. */
export interface DecodeState {
  /** Number of the line that comes next, from 1. */
  readonly line: number;
  /** The header's cells; null before it was read. */
  readonly header: readonly string[] | null;
  readonly delimiter: Delimiter;
  /**
   * The header of the log before it, for a log that begins with a reading: a logger that writes its header
   * once may go on without one after its log was rotated or truncated. Null where there is none.
   */
  readonly before: Header | null;
  readonly time: Readonly<TimeMemory>;
  /** Inside a line that is too long: everything up to its end is dropped. */
  readonly skipping: boolean;
  /** Why the log cannot be read at all; nothing more is decoded then. */
  readonly problem: string | null;
}

/** The rows of some bytes, and how far they reach. */
export interface RowBlock extends CollectedRows {
  /** How many of the bytes were used: the rest is the beginning of the next record. */
  readonly consumed: number;
  /** Where decoding stands after the used bytes. */
  readonly state: DecodeState;
}

export interface Decoder {
  /**
   * Decodes bytes that begin where `state` stands. Rows, reasons and lines do not depend on how a log is
   * cut into calls. `final`: no more will come, so the last record may lack its line end.
   * With `space` the rows lie there, until the next block is decoded into it.
   */
  decode(state: DecodeState, bytes: Buffer, final: boolean, space?: RowSpace): RowBlock;
  /** Room for the rows of one block after another. */
  newSpace(): RowSpace;
  /** The header that a log's first bytes hold; null where they hold none. */
  headerIn(bytes: Buffer): Header | null;
  /** The columns of a log by its state; undefined before its header was read. */
  layout(state: DecodeState): Layout | undefined;
}

/**
 * The beginning of a log. `before` and `time` are those of the log that it goes on from: after a rotation
 * within the repeated hour of a zone, the second pass is still the second.
 */
export function newDecodeState(
  before: Header | null = null,
  time: Readonly<TimeMemory> = newTimeMemory(),
): DecodeState {
  return {
    line: 1,
    header: null,
    delimiter: ",",
    before,
    time,
    skipping: false,
    problem: null,
  };
}

const noRows: CollectedRows = {
  rows: 0,
  timeMs: new Float64Array(0),
  line: new Float64Array(0),
  columns: [],
  rejected: [],
};

const partings = { ",": parting(","), ";": parting(";"), "\t": parting("\t") } as const;
const newline = 0x0a;
const carriageReturn = 0x0d;
/** Lines that are not plain go to csv-parse together, twice as many each time, up to this many. */
const mostOddLines = 4096;

/** Reads the complete records of `bytes` from `at` on into the collector. */
function readRecords(
  bytes: Buffer,
  at: number,
  line: number,
  final: boolean,
  rows: RowCollector,
  zone: ZoneReader,
) {
  const { delimiter } = rows.layout();
  const scratch = newTimeMemory();

  /** One record by itself, where the range that holds it cannot be read as a whole. */
  function takeAlone(start: number, end: number, onLine: number): void {
    const cells = cellsOf(bytes.subarray(start, end), { delimiter });
    if (typeof cells === "string") rows.reject(onLine, cells);
    else if (cells.length === 1) rows.take(cells[0] ?? [], onLine);
    else rows.reject(onLine, "its quotes do not fit together");
  }

  /** Lines without quotes: plain ones in the quick lane, others, and what stands right after them, by csv-parse. */
  function lines(start: number, end: number, first: number): number {
    let from = start;
    let line = first;
    let odd = 1;
    while (from < end) {
      const blank = bytes[from] === carriageReturn && bytes[from + 1] === newline ? 2 : 1;
      if (bytes[from + blank - 1] === newline) {
        from += blank;
        line++;
        continue;
      }
      const plain = rows.takePlain(bytes, from, end, line);
      odd = plain.at > from ? 1 : Math.min(2 * odd, mostOddLines);
      from = plain.at;
      line = plain.line;
      if (from === end) break;
      let stop = from;
      for (let n = 0; n < odd && stop < end; n++) {
        const next = bytes.indexOf(newline, stop) + 1;
        stop = next === 0 ? end : Math.min(next, end);
      }
      const cells = cellsOf(bytes.subarray(from, stop), { delimiter });
      if (typeof cells === "string")
        throw new Error("lines without quotes have been refused for their quotes");
      rows.reserve(cells.length);
      for (const row of cells) {
        if (!isComment(bytes, from)) rows.take(row, line);
        from = bytes.indexOf(newline, from) + 1;
        line++;
      }
      from = stop;
    }
    return line - first;
  }

  function range({ start, end, line: first, records }: RecordRange): number {
    if (records === undefined) return lines(start, end, first);
    const cells = cellsOf(bytes.subarray(start, end), { delimiter });
    rows.reserve(records.length);
    const whole = typeof cells !== "string" && cells.length === records.length ? cells : [];
    for (const [i, record] of records.entries()) {
      const row = whole[i];
      if (row !== undefined) rows.take(row, record.line);
      else takeAlone(record.start, records[i + 1]?.start ?? end, record.line);
    }
    return 0;
  }

  function isReading(from: number, to: number): boolean {
    const layout = rows.layout();
    const cells = bytes.toString("utf8", from, to).trimEnd().split(delimiter);
    const time = timeCell(cells, layout).trim();
    return (
      cells.length === layout.header.length && !Number.isNaN(readTime(time, zone, scratch, layout.dateOrder))
    );
  }

  return walkRecords(bytes, at, line, partings[delimiter], final, { range, reject: rows.reject, isReading });
}

/** A decoder of one unit's logs. Throws a RangeError where a mapped column has an impossible unit. */
export function createDecoder(unit: Unit, timezone: string, zone: ZoneReader): Decoder {
  const signals = signalsOf(unit).length;
  const layouts = new WeakMap<readonly string[], Layout>();

  function layoutFor(header: readonly string[], delimiter: Delimiter): Layout | undefined {
    const known = layouts.get(header);
    if (known !== undefined) return known;
    const layout = layoutOf(header, delimiter, unit);
    if (typeof layout === "string") return undefined;
    layouts.set(layout.header, layout);
    return layout;
  }

  const layoutOfState = (state: DecodeState): Layout | undefined =>
    state.header === null ? undefined : layoutFor(state.header, state.delimiter);

  /** Whether a record that is no header is a reading under the header of the log before. */
  function isReadingUnder({ cells: header, delimiter }: Header, record: Buffer): boolean {
    const layout = layoutFor(header, delimiter);
    const cells = cellsOf(record, { delimiter });
    if (layout === undefined || typeof cells === "string") return false;
    const [row = []] = cells;
    const time = timeCell(row, layout).trim();
    return (
      row.length === header.length && !Number.isNaN(readTime(time, zone, newTimeMemory(), layout.dateOrder))
    );
  }

  function begin(
    state: DecodeState,
    bytes: Buffer,
    final: boolean,
  ): { state: DecodeState; consumed: number } {
    const { consumed, line, layout, problem, noHeader } = readBeginning(bytes, state.line, unit, final);
    if (layout !== undefined) {
      layouts.set(layout.header, layout);
      return { consumed, state: { ...state, line, header: layout.header, delimiter: layout.delimiter } };
    }
    const { before } = state;
    if (before !== null && noHeader !== undefined) {
      const { start, end } = noHeader;
      // A log that is copied and truncated while its logger still holds a block begins within a row.
      const next = bytes.subarray(end, bytes.indexOf(newline, end) + 1);
      if (isReadingUnder(before, bytes.subarray(start, end)) || isReadingUnder(before, next)) {
        const { cells: header, delimiter } = before;
        return { consumed: start, state: { ...state, line: noHeader.line, header, delimiter } };
      }
      if (next.length === 0 && !final) return { consumed: 0, state };
    }
    return { consumed, state: { ...state, line, problem: problem ?? null } };
  }

  function decode(
    given: DecodeState,
    bytes: Buffer,
    final: boolean,
    space: RowSpace = newRowSpace(signals),
  ): RowBlock {
    let state = given;
    let consumed = 0;
    if (state.problem !== null) return { ...noRows, consumed: bytes.length, state };
    if (state.skipping) {
      const lineEnd = bytes.indexOf(newline);
      if (lineEnd < 0) return { ...noRows, consumed: bytes.length, state };
      consumed = lineEnd + 1;
      state = { ...state, skipping: false, line: state.line + 1 };
    }
    if (state.header === null) {
      const begun = begin(state, bytes.subarray(consumed), final);
      consumed += begun.consumed;
      state = begun.state;
    }
    const layout = layoutOfState(state);
    if (layout === undefined) return { ...noRows, consumed, state };
    const memory: TimeMemory = { ...state.time };
    const rows = rowCollector(space, layout, { zone, timezone, memory }, (cells) =>
      layoutFor(cells, layout.delimiter),
    );
    const walked = readRecords(bytes, consumed, state.line, final, rows, zone);
    const { header } = rows.layout();
    const { line, skipping } = walked;
    return {
      ...rows.collected(),
      consumed: walked.consumed,
      state: { ...state, header, line, skipping, time: memory },
    };
  }

  function headerIn(bytes: Buffer): Header | null {
    const { layout } = readBeginning(bytes, 1, unit, false);
    return layout === undefined ? null : { cells: layout.header, delimiter: layout.delimiter };
  }

  return { decode, newSpace: () => newRowSpace(signals), headerIn, layout: layoutOfState };
}
