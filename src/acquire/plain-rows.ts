import type { Layout, LayoutColumn } from "./dialect.ts";
import { isComment } from "./records.ts";
import type { Clock, RowSpace } from "./row-collector.ts";
import { convert, convertsNothing } from "./stored-value.ts";
import { dayOfMs, localMs, unixMs } from "./time.ts";

const newline = 0x0a;
const carriageReturn = 0x0d;
const plus = 0x2b;
const minus = 0x2d;
const point = 0x2e;
const colon = 0x3a;
const letterT = 0x54;
const letterZ = 0x5a;
const space = 0x20;

/** What a column of the file is to the quick lane. */
const kinds = { ignored: 0, number: 1, converted: 2, status: 3, statusWithFault: 4, time: 5 } as const;

/** Powers of ten up to 10^22 are exact, and so is a mantissa of 15 digits: their quotient is rounded once, as `Number` does. */
const tens = Float64Array.from({ length: 16 }, (_, k) => Number(`1e${k}`));
const mostDigits = 15;

const isDigit = (byte: number): boolean => byte >= 48 && byte <= 57;

/** Two digits as a number; 100 where they are none. */
function twoAt(bytes: Buffer, at: number): number {
  const tens = bytes[at] - 48;
  const ones = bytes[at + 1] - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : 100;
}

/**
 * The quick lane: rows of plain cells go from bytes straight into the columns of `into`, without a string
 * or an object a row. `read` takes lines from `at` on until `end` or the first line that holds anything
 * else, which is left to csv-parse, and returns where that line begins; both lanes give the same rows.
 * The bytes hold no quote. Undefined for a layout that it cannot serve.
 */
export function plainRows(
  layout: Layout,
  into: RowSpace,
  { zone, memory }: Clock,
): ((bytes: Buffer, at: number, end: number, line: number) => number) | undefined {
  const width = layout.header.length;
  const delimiter = layout.delimiter.charCodeAt(0);
  const kindOf = new Uint8Array(width);
  const columnOf = new Array<Layout["columns"][number] | undefined>(width).fill(undefined);
  kindOf[layout.time] = kinds.time;
  for (const column of layout.columns) {
    if (kindOf[column.index] !== kinds.ignored) return undefined;
    columnOf[column.index] = column;
    if (column.kind === "status") kindOf[column.index] = kinds.status;
    else if (column.kind === "status with fault") kindOf[column.index] = kinds.statusWithFault;
    else kindOf[column.index] = convertsNothing(column) ? kinds.number : kinds.converted;
  }
  /** The `YYYY-MM-DD` that was read last, and its midnight: most rows have the same. */
  const lastDay = new Uint8Array(10);
  let lastDayMs = Number.NaN;
  /** Where the cell that was read last ends; −1 where it is not plain. What it held, in a column of its own since a variable would be boxed. */
  let at = 0;
  const cell = new Float64Array(1);
  /** Where each column of the file goes. */
  const targets = new Array<Float64Array | undefined>(width).fill(undefined);

  function readNumber(bytes: Buffer, from: number): void {
    let p = from;
    let byte = bytes[p];
    const negative = byte === minus;
    if (negative || byte === plus) byte = bytes[++p];
    const first = p;
    let mantissa = 0;
    let digit = byte - 48;
    while (digit >= 0 && digit <= 9) {
      mantissa = mantissa * 10 + digit;
      digit = bytes[++p] - 48;
    }
    let digits = p - first;
    let decimals = 0;
    if (bytes[p] === point) {
      const dot = p;
      digit = bytes[++p] - 48;
      while (digit >= 0 && digit <= 9) {
        mantissa = mantissa * 10 + digit;
        digit = bytes[++p] - 48;
      }
      decimals = p - dot - 1;
      digits += decimals;
    }
    at = digits === 0 || digits > mostDigits ? -1 : p;
    if (decimals > 0) mantissa /= tens[decimals];
    // Not −mantissa: no reading is −0.
    cell[0] = negative ? 0 - mantissa : mantissa;
  }

  function readStatus(bytes: Buffer, from: number, canFault: boolean): void {
    const a = bytes[from] | 0x20;
    const b = bytes[from + 1] | 0x20;
    at = -1;
    if (a === 0x6f && b === 0x6e) {
      cell[0] = 1;
      at = from + 2;
    } else if (a === 0x6f && b === 0x66 && (bytes[from + 2] | 0x20) === 0x66) {
      cell[0] = 0;
      at = from + 3;
    } else if (bytes[from] === 0x30 || bytes[from] === 0x31) {
      cell[0] = bytes[from] - 48;
      at = from + 1;
    } else if (canFault && a === 0x66 && bytes.toString("latin1", from, from + 5).toLowerCase() === "fault") {
      cell[0] = 2;
      at = from + 5;
    }
  }

  function dayAt(bytes: Buffer, from: number): number {
    let same = 0;
    while (same < 10 && bytes[from + same] === lastDay[same]) same++;
    if (same === 10) return lastDayMs;
    for (let i = 0; i < 10; i++) lastDay[i] = bytes[from + i];
    const century = twoAt(bytes, from);
    const year = twoAt(bytes, from + 2);
    const month = twoAt(bytes, from + 5);
    const day = twoAt(bytes, from + 8);
    const isDay = century < 100 && year < 100 && month < 100 && day < 100 && bytes[from + 7] === minus;
    lastDayMs = isDay ? dayOfMs(century * 100 + year, month, day) : Number.NaN;
    return lastDayMs;
  }

  /** `YYYY-MM-DD`, `T` or a space, `HH:MM:SS`, a fraction or none, and then `Z`, an offset or nothing; or Unix digits. */
  function readTime(bytes: Buffer, from: number): void {
    if (bytes[from + 4] !== minus) {
      readNumber(bytes, from);
      const first = bytes[from] === minus ? from + 1 : from;
      if (at > 0 && (!isDigit(bytes[first]) || bytes[at - 1] === point)) at = -1;
      cell[0] = unixMs(cell[0]);
      if (Number.isNaN(cell[0])) at = -1;
      return;
    }
    at = -1;
    const dayMs = dayAt(bytes, from);
    const between = bytes[from + 10];
    if (between !== letterT && between !== space) return;
    if (bytes[from + 13] !== colon || bytes[from + 16] !== colon) return;
    const hour = twoAt(bytes, from + 11);
    const minute = twoAt(bytes, from + 14);
    const second = twoAt(bytes, from + 17);
    if (!(hour < 24 && minute < 60 && second < 60)) return;
    let ms = dayMs + hour * 3_600_000 + minute * 60_000 + second * 1000;
    let p = from + 19;
    if (bytes[p] === point) {
      let weight = 100;
      let digit = bytes[++p] - 48;
      if (!(digit >= 0 && digit <= 9)) return;
      while (digit >= 0 && digit <= 9) {
        ms += weight * digit;
        weight = weight === 1 ? 0 : weight / 10;
        digit = bytes[++p] - 48;
      }
    }
    if (Number.isNaN(ms)) return;
    if (bytes[p] === letterZ) p++;
    else if ((bytes[p] === plus || bytes[p] === minus) && bytes[p + 3] === colon) {
      const offsetHour = twoAt(bytes, p + 1);
      const offsetMinute = twoAt(bytes, p + 4);
      if (!(offsetHour < 24 && offsetMinute < 60)) return;
      ms += (bytes[p] === minus ? 60_000 : -60_000) * (offsetHour * 60 + offsetMinute);
      p += 6;
    } else if (bytes[p] === delimiter || bytes[p] === newline || bytes[p] === carriageReturn) {
      ms = localMs(ms, zone, memory);
      if (Number.isNaN(ms)) return;
    } else return;
    cell[0] = ms;
    at = p;
  }

  /** One line from `from` on into row `row`; the beginning of the next line, or −1 where it is not plain. */
  function readRow(bytes: Buffer, from: number, end: number, row: number): number {
    // A column that nobody reads may hold anything, and so begin a comment.
    if (kindOf[0] === kinds.ignored && isComment(bytes, from)) return -1;
    let p = from;
    for (let index = 0; index < width; index++) {
      const kind = kindOf[index];
      if (kind === kinds.ignored) {
        at = p;
        while (at < end && bytes[at] !== delimiter && bytes[at] !== newline) at++;
        if (at > p && bytes[at] === newline && bytes[at - 1] === carriageReturn) at--;
      } else if (kind === kinds.time) {
        readTime(bytes, p);
      } else if (bytes[p] === delimiter || bytes[p] === newline || bytes[p] === carriageReturn) {
        at = p;
        cell[0] = Number.NaN;
      } else if (kind === kinds.number) readNumber(bytes, p);
      else if (kind === kinds.converted) {
        readNumber(bytes, p);
        cell[0] = convert(columnOf[index] as LayoutColumn, cell[0]);
      } else readStatus(bytes, p, kind === kinds.statusWithFault);
      if (at < 0) return -1;
      const target = targets[index];
      if (target !== undefined) target[row] = cell[0];
      p = at;
      if (index < width - 1) {
        if (bytes[p] !== delimiter) return -1;
        p++;
      }
    }
    if (bytes[p] === carriageReturn) p++;
    return p < end && bytes[p] === newline ? p + 1 : -1;
  }

  return (bytes, from, end, line) => {
    // The columns grow, and are others then.
    for (const [index, column] of columnOf.entries()) targets[index] = column && into.columns[column.signal];
    targets[layout.time] = into.timeMs;
    let start = from;
    let number = line;
    while (start < end) {
      const { secondPass, lastWallMs } = memory;
      const next = into.rows < into.size ? readRow(bytes, start, end, into.rows) : -1;
      if (next < 0) {
        memory.secondPass = secondPass;
        memory.lastWallMs = lastWallMs;
        break;
      }
      into.lines[into.rows++] = number++;
      start = next;
    }
    return start;
  };
}
