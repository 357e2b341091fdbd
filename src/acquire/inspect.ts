import type { Unit } from "../fleet/unit.ts";
import { readBeginning } from "./beginning.ts";
import { type CsvReading, cellsOf } from "./csv.ts";
import type { Layout } from "./dialect.ts";
import { isComment } from "./records.ts";
import { openSource } from "./source.ts";
import { type TimeForm, timeForm } from "./time.ts";
import { timeCell } from "./time-cell.ts";

/** How a log is written, as its beginning shows. */
export interface LogDialect {
  readonly layout: Layout;
  readonly byteOrderMark: boolean;
  readonly lineEnd: "CRLF" | "LF";
  /** Undefined where the log has no row yet, or none with a number. */
  readonly decimal?: "comma" | "point";
  /** Undefined where the log has no row with a time yet. */
  readonly timeForm?: TimeForm;
}

const enoughBytes = 64 * 1024;

/** The first bytes of a log from an offset on, decompressed: so many, or what is there. */
export async function bytesFrom(path: string, offset: number, enough: number): Promise<Buffer> {
  const source = await openSource(path, offset, Math.min(enough, enoughBytes));
  try {
    let bytes: Buffer = Buffer.alloc(0);
    while (bytes.length < enough) {
      const more = await source.next(bytes);
      if (more === null) break;
      bytes = more;
    }
    return bytes;
  } finally {
    await source.close();
  }
}

/** The cells of the first rows from a line's beginning on. */
export function firstRows(bytes: Buffer, reading: CsvReading, from: number, most = 50): string[][] {
  const rows: string[][] = [];
  for (let at = from; at < bytes.length && rows.length < most; ) {
    const newline = bytes.indexOf(0x0a, at);
    const end = newline < 0 ? bytes.length : newline + 1;
    const cells = isComment(bytes, at) ? "" : cellsOf(bytes.subarray(at, end), reading);
    const row = typeof cells === "string" ? undefined : cells[0];
    if (row !== undefined && row.length > 1) rows.push(row);
    at = end;
  }
  return rows;
}

/** Looks at a log's beginning; a sentence where it cannot be read. Throws what the file system throws. */
export async function inspectLog(path: string, unit: Unit): Promise<LogDialect | string> {
  const bytes = await bytesFrom(path, 0, enoughBytes);
  if (bytes.length === 0) return "it is empty; write a header and rows into it";
  const { consumed, layout, problem } = readBeginning(bytes, 1, unit, true);
  if (layout === undefined) return problem ?? "it has no header; write one like time,motor_current_a,ozone";
  const rows = firstRows(bytes, layout, consumed);
  const numbers = layout.columns.filter(({ kind }) => kind === "number").map(({ index }) => index);
  const cells = rows.flatMap((row) => numbers.map((index) => row[index] ?? ""));
  const comma = cells.some((cell) => /\d,\d/.test(cell));
  const point = cells.some((cell) => /\d\.\d/.test(cell));
  const forms = rows.map((row) => timeForm(timeCell(row, layout).trim()));
  return {
    layout,
    byteOrderMark: bytes.length >= 3 && bytes.readUIntBE(0, 3) === 0xefbbbf,
    lineEnd: bytes.includes("\r\n") ? "CRLF" : "LF",
    decimal: comma ? "comma" : point ? "point" : undefined,
    timeForm: forms.find((form) => form !== undefined),
  };
}
