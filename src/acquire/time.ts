import { quoted } from "../fleet/quantity.ts";
import { isClock } from "./time-cell.ts";
import { type DateOrder, slashedDate, writtenTime } from "./written-date.ts";
import type { ZoneReader } from "./zone.ts";

/**
 * What the reader of times without an offset must remember of a file: whether a repeated hour is in its
 * second pass. Plain data, part of a checkpoint.
 */
export interface TimeMemory {
  /** The last wall-clock time read, ms as if in UTC; null before the first. */
  lastWallMs: number | null;
  /** Whether the wall clock has stepped back within the repeated hour. */
  secondPass: boolean;
}

export type TimeForm = "with offset" | "local" | "Unix seconds" | "Unix milliseconds";

export function newTimeMemory(): TimeMemory {
  return { lastWallMs: null, secondPass: false };
}

const shape = /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d):(\d\d)(?:[.,](\d+))?(?:([Zz])|([+-])(\d\d):(\d\d))?$/;
const unixNumber = /^-?\d+(?:[.,]\d+)?$/;
const daysInMonth = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Unix times from here up are milliseconds: 1e11 s would be the year 5138. */
const millisecondsFrom = 1e11;
/** The furthest instant that a Date can hold, ms. */
const furthestMs = 8.64e15;

function two(text: string, at: number): number {
  const tens = text.charCodeAt(at) - 48;
  const ones = text.charCodeAt(at + 1) - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

let lastDayText = "";
let lastDayMs = Number.NaN;

/** Midnight of a day as if in UTC, ms; NaN where there is no such day. */
export function dayOfMs(year: number, month: number, day: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const last = month === 2 && !leap ? 28 : (daysInMonth[month - 1] ?? 0);
  if (!(day >= 1 && day <= last)) return Number.NaN;
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  return date.getTime();
}

/** Midnight of a `YYYY-MM-DD` as if in UTC, ms; NaN where there is no such day. */
function dayMs(text: string): number {
  if (text === lastDayText) return lastDayMs;
  lastDayText = text;
  lastDayMs = dayOfMs(two(text, 0) * 100 + two(text, 2), two(text, 5), two(text, 8));
  return lastDayMs;
}

/** Which form a time is written in; undefined where it is none. */
export function timeForm(text: string): TimeForm | undefined {
  const match = shape.exec(text);
  if (match !== null) return match[8] === undefined && match[9] === undefined ? "local" : "with offset";
  if (!unixNumber.test(text)) return isWritten(text) ? "local" : undefined;
  return Math.abs(Number(text.replace(",", "."))) >= millisecondsFrom ? "Unix milliseconds" : "Unix seconds";
}

/** Whether it is a date of another order than year, month, day in one of the forms that are read. */
function isWritten(text: string): boolean {
  return writtenTime(text, undefined) !== undefined || slashedDate(text) !== undefined;
}

/** A wall-clock time in the zone as an instant, ms; NaN where the zone skips it. */
export function localMs(wallMs: number, zone: ZoneReader, memory: TimeMemory): number {
  const { first, second } = zone(wallMs);
  if (Number.isNaN(first)) return first;
  const repeated = !Number.isNaN(second);
  if (!repeated) memory.secondPass = false;
  else if (memory.lastWallMs !== null && wallMs < memory.lastWallMs) memory.secondPass = true;
  memory.lastWallMs = wallMs;
  return repeated && memory.secondPass ? second : first;
}

/** `YYYY-MM-DDTHH:MM:SSZ` or the same without `Z`, the commonest forms, without a regular expression. */
function plain(text: string, zone: ZoneReader, memory: TimeMemory): number {
  const length = text.length;
  if (length !== 19 && length !== 20) return Number.NaN;
  const utc = length === 20;
  if (utc && text.charCodeAt(19) !== 90) return Number.NaN;
  const between = text.charCodeAt(10);
  if (text.charCodeAt(4) !== 45 || text.charCodeAt(7) !== 45 || (between !== 84 && between !== 32))
    return Number.NaN;
  if (text.charCodeAt(13) !== 58 || text.charCodeAt(16) !== 58) return Number.NaN;
  const hour = two(text, 11);
  const minute = two(text, 14);
  const second = two(text, 17);
  if (!(hour < 24 && minute < 60 && second < 60)) return Number.NaN;
  const wallMs = dayMs(text.slice(0, 10)) + hour * 3_600_000 + minute * 60_000 + second * 1000;
  if (utc || Number.isNaN(wallMs)) return wallMs;
  return localMs(wallMs, zone, memory);
}

/** Unix seconds, or milliseconds from 1e11 up, as an instant in ms; NaN where no Date can hold it. */
export function unixMs(number: number): number {
  const ms = Math.floor(Math.abs(number) >= millisecondsFrom ? number : Math.round(number * 1e6) / 1e3);
  return Math.abs(ms) <= furthestMs ? ms + 0 : Number.NaN;
}

/**
 * A time cell as an instant in ms: RFC 3339 with an offset, `YYYY-MM-DD HH:MM:SS[.fff]` in the zone,
 * the same with the day first where dots part it and in `order` where slashes do,
 * Unix seconds, or Unix milliseconds from 1e11 up. Fractions finer than a millisecond are cut off.
 * A repeated local hour is its first pass until the wall clock steps back; a local time that the zone
 * skips is none. A leap second (23:59:60 UTC) is the last millisecond before midnight, so that it stays
 * before the second that follows it. NaN where the cell is no time: `whyNoTime` says why.
 */
export function readTime(text: string, zone: ZoneReader, memory: TimeMemory, order?: DateOrder): number {
  const quick = plain(text, zone, memory);
  if (!Number.isNaN(quick)) return quick;
  const match = shape.exec(text);
  if (match === null) {
    if (!unixNumber.test(text)) return readWritten(text, zone, memory, order);
    return unixMs(Number(text.replace(",", ".")));
  }
  const hour = Number(match[4]);
  const minute = Number(match[5]);
  const second = Number(match[6]);
  if (hour > 23 || minute > 59 || second > 60) return Number.NaN;
  const leap = second === 60;
  const fractionMs = leap ? 999 : Number((match[7] ?? "").slice(0, 3).padEnd(3, "0"));
  const wallMs =
    dayMs(text.slice(0, 10)) + hour * 3_600_000 + minute * 60_000 + (leap ? 59 : second) * 1000 + fractionMs;
  if (Number.isNaN(wallMs)) return wallMs;
  let timeMs: number;
  if (match[8] !== undefined) timeMs = wallMs;
  else if (match[9] === undefined) timeMs = localMs(wallMs, zone, memory);
  else {
    const offsetHour = Number(match[10]);
    const offsetMinute = Number(match[11]);
    if (offsetHour > 23 || offsetMinute > 59) return Number.NaN;
    const offsetMs = (offsetHour * 60 + offsetMinute) * 60_000;
    timeMs = match[9] === "-" ? wallMs + offsetMs : wallMs - offsetMs;
  }
  const endsDay = (timeMs + 1) % 86_400_000 === 0;
  return leap && !endsDay ? Number.NaN : timeMs;
}

function readWritten(
  text: string,
  zone: ZoneReader,
  memory: TimeMemory,
  order: DateOrder | undefined,
): number {
  const written = writtenTime(text, order);
  if (written === undefined) return Number.NaN;
  const { year, month, day, hour, minute, second, fractionMs } = written;
  if (!(hour < 24 && minute < 60 && second < 60)) return Number.NaN;
  const wallMs = dayOfMs(year, month, day) + hour * 3_600_000 + minute * 60_000 + second * 1000 + fractionMs;
  return Number.isNaN(wallMs) ? wallMs : localMs(wallMs, zone, memory);
}

function whyNotWritten(text: string, timezone: string, order: DateOrder | undefined): string | undefined {
  const named = `${quoted(text)} is not a time:`;
  const written = writtenTime(text, order);
  if (written === undefined) {
    return slashedDate(text) === undefined
      ? undefined
      : `${named} slashes do not tell day from month; write columns: { time_format: DD/MM/YYYY } or MM/DD/YYYY in the fleet file`;
  }
  const { year, month, day, hour, minute, second } = written;
  if (Number.isNaN(dayOfMs(year, month, day))) return `${named} there is no such day${orderWords(order)}`;
  if (!(hour < 24 && minute < 60 && second < 60)) return `${named} the clock has no such time`;
  return `${named} clocks in ${timezone} skipped it`;
}

const orderWords = (order: DateOrder | undefined): string =>
  order === undefined ? "" : ` as ${order}, the time_format of its columns`;

/** Why a cell that `readTime` refused is no time, and what to write instead. */
export function whyNoTime(text: string, zone: ZoneReader, timezone: string, order?: DateOrder): string {
  if (text === "") return "no time";
  const match = shape.exec(text);
  if (isClock(text))
    return `${quoted(text)} is a time of the day without its date; name the column of the dates with columns: { date: … } in the fleet file`;
  if (match === null)
    return (
      whyNotWritten(text, timezone, order) ??
      `${quoted(text)} is not a time in a form that is read; the log must say 2026-05-04T03:12:20Z or 2026-05-04 03:12:20`
    );
  const named = `${quoted(text)} is not a time:`;
  if (Number.isNaN(dayMs(text.slice(0, 10)))) return `${named} there is no such day`;
  if (Number(match[4]) > 23 || Number(match[5]) > 59 || Number(match[6]) > 60)
    return `${named} the clock has no such time`;
  if (Number(match[6]) === 60) return `${named} a second 60 is only at the end of a UTC day`;
  if (Number(match[10] ?? 0) > 23 || Number(match[11] ?? 0) > 59) return `${named} there is no such offset`;
  const wallMs = Date.parse(`${text.slice(0, 10)}T${text.slice(11, 19)}Z`);
  if (Number.isNaN(zone(wallMs).first)) return `${named} clocks in ${timezone} skipped it`;
  return `${named} write 2026-05-04T03:12:20Z`;
}
