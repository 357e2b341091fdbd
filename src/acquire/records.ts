/** A record longer than this cannot be one: it is rejected, and reading goes on at the next line. */
export const longestRecord = 1024 * 1024;
/** A quoted cell over more lines than this is a stray quote. */
const mostLinesInRecord = 100;

const quote = 0x22;
const newline = 0x0a;

/** Records that lie one after another in the bytes, each complete and no comment with a quote in it. */
export interface RecordRange {
  readonly start: number;
  readonly end: number;
  /** Line of the first record. */
  readonly line: number;
  /** Where each record begins and on which line; undefined where every line is a record. */
  readonly records?: readonly { readonly start: number; readonly line: number }[];
}

export interface RecordSink {
  /** Takes a range; returns how many lines it spans (of use where `records` is undefined). */
  range(range: RecordRange): number;
  reject(line: number, why: string): void;
  /** Whether a whole line without quotes is a reading: inside an open quote it tells a stray quote. */
  isReading(start: number, end: number): boolean;
}

/** Marks the bytes that part columns. */
export function parting(delimiters: string): Uint8Array {
  const table = new Uint8Array(256);
  for (const delimiter of delimiters) table[delimiter.charCodeAt(0)] = 1;
  return table;
}

export type RecordEnd =
  | { readonly kind: "end"; readonly end: number; readonly lines: number }
  | { readonly kind: "incomplete" }
  | { readonly kind: "stray"; readonly why: string };

const incomplete: RecordEnd = { kind: "incomplete" };
const tooLong: RecordEnd = { kind: "stray", why: "no end of the row within 1 MiB" };
const strayQuote: RecordEnd = { kind: "stray", why: "a quote is opened and not closed" };

/**
 * Finds where the record at `start` ends, by RFC 4180: a quote at a cell's beginning opens it, a doubled
 * quote is one, line ends inside belong to the cell. An open quote is stray, and not the rest of the log's
 * cell, where a later line without quotes is a whole reading, after 100 lines, or at the end of the log
 * (`final`). The answer depends on the bytes up to the end alone, not on how many follow.
 */
export function endOfRecord(
  bytes: Buffer,
  start: number,
  parts: Uint8Array,
  final: boolean,
  isReading: (start: number, end: number) => boolean,
): RecordEnd {
  const limit = Math.min(bytes.length, start + longestRecord);
  const cut = limit < bytes.length;
  let lines = 1;
  /** The next line end, looked for once however many quotes stand before it; −1 where there is none. */
  let lineEnd = 0;
  let cellBegins = true;
  let i = start;
  while (i < limit) {
    const byte = bytes[i] ?? 0;
    if (byte === newline) return { kind: "end", end: i + 1, lines };
    if (!cellBegins || byte !== quote) {
      cellBegins = parts[byte] === 1;
      i++;
      continue;
    }
    cellBegins = false;
    i++;
    for (;;) {
      const found = bytes.indexOf(quote, i);
      const close = found < 0 || found >= limit ? limit : found;
      if (lineEnd >= 0 && lineEnd < i) lineEnd = bytes.indexOf(newline, i);
      while (lineEnd >= 0 && lineEnd < close) {
        lines++;
        const next = bytes.indexOf(newline, lineEnd + 1);
        if (next >= 0 && next < close && isReading(lineEnd + 1, next)) return strayQuote;
        if (lines > mostLinesInRecord) return strayQuote;
        lineEnd = next;
      }
      if (close === limit) return cut ? tooLong : final ? strayQuote : incomplete;
      i = close + 1;
      if (bytes[i] !== quote) break;
      i++;
    }
  }
  if (cut) return tooLong;
  return final && start < bytes.length ? { kind: "end", end: bytes.length, lines } : incomplete;
}

/** Whether the line at `start` is a comment: `#` after nothing but spaces. */
export function isComment(bytes: Buffer, start: number): boolean {
  let i = start;
  while (bytes[i] === 0x20 || bytes[i] === 0x09) i++;
  return bytes[i] === 0x23;
}

/** How far the bytes were used, the line that follows, and whether that lies inside an over-long line. */
export interface Walked {
  readonly consumed: number;
  readonly line: number;
  readonly skipping: boolean;
}

/**
 * Parts bytes that begin at a record into ranges of complete records; what is left is the beginning of
 * a record that is not complete yet. With `final` the last record may lack its line end.
 */
export function walkRecords(
  bytes: Buffer,
  from: number,
  firstLine: number,
  parts: Uint8Array,
  final: boolean,
  sink: RecordSink,
): Walked {
  if (bytes.length - from <= longestRecord && bytes.indexOf(quote, from) < 0) {
    const end = final ? bytes.length : bytes.lastIndexOf(newline) + 1;
    if (end <= from) return { consumed: from, line: firstLine, skipping: false };
    return {
      consumed: end,
      line: firstLine + sink.range({ start: from, end, line: firstLine }),
      skipping: false,
    };
  }
  let at = from;
  let line = firstLine;
  let records: { start: number; line: number }[] = [];
  const hand = (end: number): void => {
    const first = records[0];
    if (first !== undefined) sink.range({ start: first.start, end, line: first.line, records });
    records = [];
  };
  while (at < bytes.length) {
    const lineEnd = bytes.indexOf(newline, at);
    if (isComment(bytes, at) && lineEnd >= 0 && lineEnd - at < longestRecord) {
      hand(at);
      at = lineEnd + 1;
      line++;
      continue;
    }
    const found = endOfRecord(bytes, at, parts, final, sink.isReading);
    if (found.kind === "incomplete") break;
    if (found.kind === "end") {
      records.push({ start: at, line });
      at = found.end;
      line += found.lines;
      continue;
    }
    hand(at);
    sink.reject(line, found.why);
    if (lineEnd < 0) return { consumed: bytes.length, line, skipping: !final };
    at = lineEnd + 1;
    line++;
  }
  hand(at);
  return { consumed: at, line, skipping: false };
}
