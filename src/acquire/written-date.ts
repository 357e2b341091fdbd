import type { ColumnMap } from "../fleet/unit.ts";

/** How a date with slashes is written, as `time_format` in the fleet file names it. */
export type DateOrder = NonNullable<ColumnMap["timeFormat"]>;

/** A date and a wall-clock time as written, whether or not there is such a day or time. */
export interface WrittenTime {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
  readonly fractionMs: number;
}

const clock = String.raw`(?:T|,?[ ]+)(\d\d?):(\d\d)(?::(\d\d)(?:[.,](\d+))?)?(?:[ ]?([AaPp])\.?[Mm]\.?)?$`;
const dotted = new RegExp(String.raw`^(\d\d?)\.(\d\d?)\.(\d{4}|\d\d)${clock}`);
const slashed = new RegExp(String.raw`^(\d\d?)/(\d\d?)/(\d{4}|\d\d)${clock}`);
const yearFirst = new RegExp(String.raw`^(\d{4})/(\d\d?)/(\d\d?)${clock}`);

/** Two digits are of this century: no log is older (house choice). */
const yearOf = (text = ""): number => Number(text) + (text.length === 2 ? 2000 : 0);

/** Of 12 hours 12 is the first: 12:05 AM is five past midnight. */
function hourOf(text: string | undefined, half: string | undefined): number {
  const hour = Number(text);
  if (half === undefined) return hour;
  if (hour < 1 || hour > 12) return Number.NaN;
  return (hour % 12) + (half.toLowerCase() === "p" ? 12 : 0);
}

function timeIn(match: RegExpExecArray): Omit<WrittenTime, "year" | "month" | "day"> {
  const [, , , , hour, minute, second = "0", fraction = "", half] = match;
  return {
    hour: hourOf(hour, half),
    minute: Number(minute),
    second: Number(second),
    fractionMs: Number(fraction.slice(0, 3).padEnd(3, "0")),
  };
}

/**
 * A date with dots, day first by custom; with slashes, year first, or in `order`. Undefined where it is neither, or has
 * slashes whose order is not known.
 */
export function writtenTime(text: string, order: DateOrder | undefined): WrittenTime | undefined {
  const day = dotted.exec(text);
  if (day !== null)
    return { year: yearOf(day[3]), month: Number(day[2]), day: Number(day[1]), ...timeIn(day) };
  const year = yearFirst.exec(text);
  if (year !== null)
    return { year: yearOf(year[1]), month: Number(year[2]), day: Number(year[3]), ...timeIn(year) };
  const match = order === undefined ? null : slashed.exec(text);
  if (match === null) return undefined;
  const [first, second] = [Number(match[1]), Number(match[2])];
  const [dayOf, month] = order === "DD/MM/YYYY" ? [first, second] : [second, first];
  return { year: yearOf(match[3]), month, day: dayOf, ...timeIn(match) };
}

/** The first two numbers of a date whose order slashes do not tell; undefined where it is none. */
export function slashedDate(text: string): readonly [first: number, second: number] | undefined {
  const match = slashed.exec(text);
  return match === null ? undefined : [Number(match[1]), Number(match[2])];
}

/** Whether a date with slashes has a clock of 12 hours. */
export function isHalfDay(text: string): boolean {
  return slashed.exec(text)?.[8] !== undefined;
}
