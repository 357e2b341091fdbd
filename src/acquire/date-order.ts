import { day } from "../terms/time.ts";
import { newTimeMemory, readTime } from "./time.ts";
import { type DateOrder, isHalfDay, slashedDate } from "./written-date.ts";
import type { ZoneReader } from "./zone.ts";

/** How dates with slashes are taken, and why. */
export interface OrderGuess {
  readonly order: DateOrder;
  readonly why: string;
  /** Nothing in the cells tells. */
  readonly unsure: boolean;
}

const monthsMost = 12;

/** Which of the first two numbers of a log's dates is the day; undefined where they have no slashes. */
export function dateOrderOf(cells: readonly string[], zone: ZoneReader): OrderGuess | undefined {
  const dates = cells.flatMap((cell) => [slashedDate(cell) ?? []].filter((date) => date.length === 2));
  if (dates.length === 0) return undefined;
  const firsts = Math.max(...dates.map(([first]) => first ?? 0));
  const seconds = Math.max(...dates.map(([, second]) => second ?? 0));
  if (firsts > monthsMost && seconds <= monthsMost)
    return sure("DD/MM/YYYY", `its first number goes up to ${firsts}`);
  if (seconds > monthsMost && firsts <= monthsMost)
    return sure("MM/DD/YYYY", `its second number goes up to ${seconds}`);
  const [dayFirst, monthFirst] = [spanOf(cells, zone, "DD/MM/YYYY"), spanOf(cells, zone, "MM/DD/YYYY")];
  const told = "else its rows would lie months apart";
  if (dayFirst < monthFirst) return sure("DD/MM/YYYY", told);
  if (monthFirst < dayFirst) return sure("MM/DD/YYYY", told);
  const order = cells.some(isHalfDay) ? "MM/DD/YYYY" : "DD/MM/YYYY";
  const by = order === "MM/DD/YYYY" ? "by its clock of 12 hours" : "by custom";
  return { order, why: `${by}: day and month cannot be told in its rows`, unsure: true };
}

const sure = (order: DateOrder, why: string): OrderGuess => ({ order, why, unsure: false });

/** Days between the first and the last time of the cells. */
function spanOf(cells: readonly string[], zone: ZoneReader, order: DateOrder): number {
  const memory = newTimeMemory();
  const timesMs = cells.map((cell) => readTime(cell, zone, memory, order)).filter((ms) => !Number.isNaN(ms));
  const ends = timesMs.reduce(
    ([low, high], ms) => [Math.min(low, ms), Math.max(high, ms)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
  return Math.round((ends[1] - ends[0]) / day);
}
