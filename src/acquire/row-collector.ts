import { quoted } from "../fleet/quantity.ts";
import { readNumber, readStatus, unreadable } from "./cell.ts";
import type { Layout } from "./dialect.ts";
import { plainRows } from "./plain-rows.ts";
import { convert } from "./stored-value.ts";
import { readTime, type TimeMemory, whyNoTime } from "./time.ts";
import { timeCell } from "./time-cell.ts";
import type { ZoneReader } from "./zone.ts";

export interface Rejected {
  readonly line: number;
  readonly why: string;
  /** How many rows of the block come before it. */
  readonly beforeRow: number;
}

/** Rows as columns, in the order of the file. */
export interface CollectedRows {
  readonly rows: number;
  readonly timeMs: Float64Array;
  /** Line on which each row begins. */
  readonly line: Float64Array;
  /** By signal index; undefined where the log has no such column. */
  readonly columns: readonly (Float64Array | undefined)[];
  readonly rejected: readonly Rejected[];
}

/**
 * Where rows are put: columns with room for `size` rows, of which `rows` are taken. It is used again for the
 * next block, since making columns anew takes a fifth of the time of filling them.
 */
export interface RowSpace {
  rows: number;
  size: number;
  timeMs: Float64Array;
  lines: Float64Array;
  /** By signal; undefined where the block has no such column. */
  readonly columns: (Float64Array | undefined)[];
  /** Columns of earlier blocks, to be used again. */
  readonly spare: (Float64Array | undefined)[];
}

export function newRowSpace(signals: number): RowSpace {
  return {
    rows: 0,
    size: 0,
    timeMs: new Float64Array(0),
    lines: new Float64Array(0),
    columns: new Array(signals).fill(undefined),
    spare: new Array(signals).fill(undefined),
  };
}

export interface RowCollector {
  /** Makes room for so many rows more. */
  reserve(more: number): void;
  /**
   * Adds plain rows straight from bytes that hold no quote and begin and end with a line; returns where the
   * first line begins that is not plain, or `end`, and its number.
   */
  takePlain(bytes: Buffer, at: number, end: number, line: number): { at: number; line: number };
  /** Adds the row of a record's cells, or rejects it; blank rows and repeated headers are skipped. */
  take(cells: readonly string[], line: number): void;
  reject(line: number, why: string): void;
  /** The layout that is in force: a header in the middle of a log may bring another. */
  layout(): Layout;
  collected(): CollectedRows;
}

export interface Clock {
  readonly zone: ZoneReader;
  readonly timezone: string;
  readonly memory: TimeMemory;
}

const wanted = { number: "a number", status: "on or off", "status with fault": "on, off or fault" } as const;

const blank = (cell: string): boolean => cell.trim() === "";

const sameHeader = (cells: readonly string[], header: readonly string[]): boolean =>
  cells.length === header.length &&
  header.every((name, i) => name.trim().toLowerCase() === cells[i]?.trim().toLowerCase());

/**
 * Collects the rows of one block in `space`, and what the block before left there is lost; `otherLayout`
 * reads cells as a header, where they are one.
 */
export function rowCollector(
  space: RowSpace,
  first: Layout,
  clock: Clock,
  otherLayout: (cells: readonly string[]) => Layout | undefined,
): RowCollector {
  const { zone, timezone, memory } = clock;
  const { columns, spare } = space;
  space.rows = 0;
  columns.fill(undefined);
  const rejected: Rejected[] = [];
  let layout = first;
  let plain = plainRows(layout, space, clock);

  function longer(old: Float64Array): Float64Array<ArrayBuffer> {
    const next = new Float64Array(space.size);
    next.set(old.subarray(0, space.rows));
    return next;
  }

  /** A column for a signal that the block had none of so far. */
  function another(signal: number): Float64Array {
    const old = spare[signal];
    const column = old !== undefined && old.length >= space.size ? old : new Float64Array(space.size);
    spare[signal] = column;
    return column.fill(Number.NaN, 0, space.rows);
  }

  /** Every row writes every column of the layout in force; the others are blank from here on. */
  function blankOthers(): void {
    const inForce = new Set(layout.columns.map(({ signal }) => signal));
    for (const [signal, column] of columns.entries()) {
      if (!inForce.has(signal)) column?.fill(Number.NaN, space.rows);
    }
  }

  function reserve(more: number): void {
    if (space.rows + more > space.size) {
      space.size = space.rows + more;
      space.timeMs = longer(space.timeMs);
      space.lines = longer(space.lines);
      for (const [signal, column] of columns.entries()) {
        if (column === undefined) continue;
        columns[signal] = longer(column);
        spare[signal] = columns[signal];
      }
      blankOthers();
    }
    for (const { signal } of layout.columns) columns[signal] ??= another(signal);
  }

  function reject(line: number, why: string): void {
    rejected.push({ line, why, beforeRow: space.rows });
  }

  function headerAgain(cells: readonly string[]): boolean {
    if (sameHeader(cells, layout.header)) return true;
    const other = otherLayout(cells);
    if (other === undefined) return false;
    layout = other;
    plain = plainRows(layout, space, clock);
    reserve(0);
    blankOthers();
    return true;
  }

  function wrongWidth(cells: readonly string[]): string | undefined {
    const width = layout.header.length;
    if (cells.length < width) return `the row ends early: ${cells.length} of ${width} columns`;
    if (cells.slice(width).every(blank)) return undefined;
    return `the row has ${cells.length} columns, the header ${width}`;
  }

  /** Reads the channels' cells into the next row; the first one that cannot be read, in words. */
  function readCells(cells: readonly string[]): string | undefined {
    const commaParts = layout.delimiter === ",";
    for (const column of layout.columns) {
      const cell = cells[column.index] ?? "";
      const into = columns[column.signal];
      if (into === undefined) continue;
      const { kind } = column;
      const number =
        kind === "number" ? readNumber(cell, commaParts) : readStatus(cell, kind === "status with fault");
      if (number === unreadable)
        return `${quoted(column.header)}: ${quoted(cell.trim())} is not ${wanted[kind]}`;
      into[space.rows] = kind === "number" ? convert(column, number) : number;
    }
    return undefined;
  }

  /** The row is not to be: nothing of it may show through a later row of fewer columns. */
  function undo(): void {
    if (space.rows === space.size) return;
    for (const { signal } of layout.columns) {
      const column = columns[signal];
      if (column !== undefined) column[space.rows] = Number.NaN;
    }
  }

  function take(cells: readonly string[], line: number): void {
    const cell = timeCell(cells, layout);
    if (cells.length !== layout.header.length || cell === "") {
      if (cells.every(blank) || headerAgain(cells)) return;
      const why = wrongWidth(cells);
      if (why !== undefined) {
        reject(line, why);
        return;
      }
    }
    const { dateOrder } = layout;
    let time = readTime(cell, zone, memory, dateOrder);
    if (Number.isNaN(time)) time = readTime(cell.trim(), zone, memory, dateOrder);
    if (Number.isNaN(time)) {
      if (!headerAgain(cells)) reject(line, whyNoTime(cell.trim(), zone, timezone, dateOrder));
      return;
    }
    const why = readCells(cells);
    if (why !== undefined) {
      undo();
      reject(line, why);
      return;
    }
    space.timeMs[space.rows] = time;
    space.lines[space.rows] = line;
    space.rows++;
  }

  function takePlain(bytes: Buffer, at: number, end: number, line: number): { at: number; line: number } {
    const before = space.rows;
    let from = at;
    while (plain !== undefined && from < end) {
      if (space.rows === space.size) reserve(Math.max(64, Math.ceil((end - from) / 48)));
      from = plain(bytes, from, end, line + space.rows - before);
      if (space.rows < space.size) break;
    }
    undo();
    return { at: from, line: line + space.rows - before };
  }

  reserve(0);
  return {
    reserve,
    takePlain,
    take,
    reject,
    layout: () => layout,
    collected: () => ({ rows: space.rows, timeMs: space.timeMs, line: space.lines, columns, rejected }),
  };
}
