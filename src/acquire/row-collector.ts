import { quoted } from "../fleet/quantity.ts";
import { readNumber, readStatus, unreadable } from "./cell.ts";
import type { Layout, LayoutColumn } from "./dialect.ts";
import { readTime, type TimeMemory, whyNoTime } from "./time.ts";
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

export interface RowCollector {
  /** Makes room for so many rows more. */
  reserve(more: number): void;
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

function convert(column: LayoutColumn, number: number): number {
  // NAMUR NE 43: a loop at 3.6 mA or below, 21 mA or above, is in failure and carries no measurement.
  if (column.loop && (number <= 3.6 || number >= 21)) return Number.NaN;
  const value = number * column.factor + column.offset;
  if (column.vacuum === "no") return value;
  return column.vacuum === "inverted" ? 0 - value : 0 - Math.abs(value);
}

const wanted = { number: "a number", status: "on or off", "status with fault": "on, off or fault" } as const;

const blank = (cell: string): boolean => cell.trim() === "";

const sameHeader = (cells: readonly string[], header: readonly string[]): boolean =>
  cells.length === header.length &&
  header.every((name, i) => name.trim().toLowerCase() === cells[i]?.trim().toLowerCase());

/** Collects the rows of one block; `otherLayout` reads cells as a header, where they are one. */
export function rowCollector(
  signals: number,
  first: Layout,
  clock: Clock,
  otherLayout: (cells: readonly string[]) => Layout | undefined,
): RowCollector {
  const { zone, timezone, memory } = clock;
  const columns: (Float64Array | undefined)[] = new Array(signals).fill(undefined);
  const rejected: Rejected[] = [];
  let layout = first;
  let size = 0;
  let rows = 0;
  let timeMs = new Float64Array(0);
  let lines = new Float64Array(0);

  function longer(old: Float64Array | undefined): Float64Array<ArrayBuffer> {
    const next = new Float64Array(size).fill(Number.NaN);
    if (old !== undefined) next.set(old);
    return next;
  }

  function reserve(more: number): void {
    if (rows + more > size) {
      size = rows + more;
      timeMs = longer(timeMs);
      lines = longer(lines);
      for (let i = 0; i < signals; i++) if (columns[i] !== undefined) columns[i] = longer(columns[i]);
    }
    for (const { signal } of layout.columns) columns[signal] ??= longer(undefined);
  }

  function reject(line: number, why: string): void {
    rejected.push({ line, why, beforeRow: rows });
  }

  function headerAgain(cells: readonly string[]): boolean {
    if (sameHeader(cells, layout.header)) return true;
    const other = otherLayout(cells);
    if (other === undefined) return false;
    layout = other;
    reserve(0);
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
      into[rows] = kind === "number" ? convert(column, number) : number;
    }
    return undefined;
  }

  /** The row is not to be: nothing of it may show through a later row of fewer columns. */
  function undo(): void {
    for (const { signal } of layout.columns) {
      const column = columns[signal];
      if (column !== undefined) column[rows] = Number.NaN;
    }
  }

  function take(cells: readonly string[], line: number): void {
    const cell = cells[layout.time] ?? "";
    if (cells.length !== layout.header.length || cell === "") {
      if (cells.every(blank) || headerAgain(cells)) return;
      const why = wrongWidth(cells);
      if (why !== undefined) {
        reject(line, why);
        return;
      }
    }
    let time = readTime(cell, zone, memory);
    if (Number.isNaN(time)) time = readTime(cell.trim(), zone, memory);
    if (Number.isNaN(time)) {
      if (!headerAgain(cells)) reject(line, whyNoTime(cell.trim(), zone, timezone));
      return;
    }
    const why = readCells(cells);
    if (why !== undefined) {
      undo();
      reject(line, why);
      return;
    }
    timeMs[rows] = time;
    lines[rows] = line;
    rows++;
  }

  return {
    reserve,
    take,
    reject,
    layout: () => layout,
    collected: () => ({ rows, timeMs, line: lines, columns, rejected }),
  };
}
