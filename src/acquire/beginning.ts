import { isUtf8 } from "node:buffer";
import type { Unit } from "../fleet/unit.ts";
import { cellsOf } from "./csv.ts";
import { type Delimiter, type Layout, layoutOf } from "./dialect.ts";
import { endOfRecord, isComment, longestRecord, parting } from "./records.ts";

const anyDelimiter: readonly Delimiter[] = [",", ";", "\t"];
const anyParting = parting(anyDelimiter.join(""));
/** A first line with which spreadsheets tell each other the delimiter. */
const delimiterHint = /^"?sep=.?"?$/i;
const utf16 = "it is UTF-16 text; save it as UTF-8 CSV";

function notText(bytes: Buffer): string | undefined {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) return utf16;
  const nul = bytes.indexOf(0);
  if (nul < 0) return undefined;
  const everyOther = bytes[nul + 1] !== 0 && (bytes[nul + 2] === 0 || bytes[nul - 2] === 0);
  return everyOther && bytes.length >= 4
    ? utf16
    : "it is binary (NUL bytes), not CSV text; give the logger's CSV export";
}

/** The cells of a header by each delimiter that it may be parted by. */
function headersOf(record: Buffer): readonly Header[] {
  // Loggers of another day write the degree sign in Latin-1.
  const encoding = isUtf8(record) ? "utf8" : "latin1";
  return anyDelimiter.flatMap((delimiter) => {
    const records = cellsOf(record, { delimiter, encoding, relaxQuotes: true });
    if (typeof records === "string") return [];
    return [{ delimiter, cells: (records[0] ?? []).map((cell) => cell.trim().replace(/^"(.*)"$/, "$1")) }];
  });
}

/** The layout with the most known columns among the delimiters; the first problem where none fits. */
function bestLayout(record: Buffer, unit: Unit): Layout | string {
  let best: Layout | undefined;
  let problem = "its header cannot be read";
  let problemCells = 0;
  for (const { cells, delimiter } of headersOf(record)) {
    const layout = layoutOf(cells, delimiter, unit);
    if (typeof layout !== "string") {
      if (best === undefined || layout.columns.length > best.columns.length) best = layout;
    } else if (cells.length > problemCells) {
      problem = layout;
      problemCells = cells.length;
    }
  }
  return best ?? problem;
}

/** A header as it is written, whatever its columns mean. */
export interface Header {
  readonly cells: readonly string[];
  readonly delimiter: Delimiter;
}

/** The header by the delimiter that parts it into the most cells; a sentence where nothing parts it. */
export function widestHeader(record: Buffer): Header | string {
  const [first] = headersOf(record).toSorted((a, b) => b.cells.length - a.cells.length);
  return first !== undefined && first.cells.length > 1
    ? first
    : "it is no CSV: no comma, semicolon or tab in its first line; give the logger's CSV export";
}

/** What the beginning of a log gave: how much was used, the next line, and the layout or a problem. */
export interface Beginning<Found = Layout> {
  readonly consumed: number;
  readonly line: number;
  readonly layout?: Found;
  readonly problem?: string;
  /** Where the record lies that should have been the header and is none. */
  readonly noHeader?: { readonly start: number; readonly end: number; readonly line: number };
}

/**
 * Reads a log's lines up to its header: skips a byte-order mark, blank lines, comments and `sep=;`. The
 * first other line is the header. Without a layout and a problem, the header is not complete yet.
 */
export function readBeginning(bytes: Buffer, firstLine: number, unit: Unit, final: boolean): Beginning {
  return readToHeader(bytes, firstLine, (record) => bestLayout(record, unit), final);
}

/** The same for whatever `headerOf` makes of the header's record. */
export function readToHeader<Found extends object>(
  bytes: Buffer,
  firstLine: number,
  headerOf: (record: Buffer) => Found | string,
  final: boolean,
): Beginning<Found> {
  let at = 0;
  let line = firstLine;
  const stop = (problem: string): Beginning<Found> => ({ consumed: bytes.length, line, problem });
  while (at < bytes.length) {
    const marked = line === 1 && bytes.length >= 3 && bytes.readUIntBE(0, 3) === 0xefbbbf;
    const text = marked ? 3 : at;
    const newline = bytes.indexOf(0x0a, at);
    const end = newline < 0 ? bytes.length : newline + 1;
    if (newline >= 0 || final || bytes.length - at >= 4096) {
      const problem = notText(bytes.subarray(at, end));
      if (problem !== undefined) return stop(problem);
    }
    if (end - at > longestRecord) return stop("its header cannot be read: no end of the row within 1 MiB");
    const skipped = isComment(bytes, text) || bytes.toString("latin1", text, end).trim() === "";
    if (skipped && newline < 0) break;
    if (skipped) {
      at = end;
      line++;
      continue;
    }
    const found = endOfRecord(bytes, text, anyParting, final, () => false);
    if (found.kind === "incomplete") break;
    if (found.kind === "stray") return stop(`its header cannot be read: ${found.why}`);
    const record = bytes.subarray(text, found.end);
    const start = text;
    const onLine = line;
    at = found.end;
    line += found.lines;
    if (delimiterHint.test(record.toString("latin1").trim())) continue;
    const layout = headerOf(record);
    if (typeof layout !== "string") return { consumed: at, line, layout };
    return { ...stop(layout), noHeader: { start, end: at, line: onLine } };
  }
  return { consumed: at, line };
}
