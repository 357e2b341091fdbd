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
  const [dayFirst, monthFirst] = [timesIn(cells, zone, "DD/MM/YYYY"), timesIn(cells, zone, "MM/DD/YYYY")];
  const turns = turnsOf(dayFirst) - turnsOf(monthFirst);
  if (turns !== 0)
    return sure(turns < 0 ? "DD/MM/YYYY" : "MM/DD/YYYY", "else its rows would go to and fro in time");
  const days = daysOf(dayFirst) - daysOf(monthFirst);
  if (days !== 0) return sure(days < 0 ? "DD/MM/YYYY" : "MM/DD/YYYY", "else its rows would lie months apart");
  const order = cells.some(isHalfDay) ? "MM/DD/YYYY" : "DD/MM/YYYY";
  const by = order === "MM/DD/YYYY" ? "by its clock of 12 hours" : "by custom";
  return { order, why: `${by}: day and month cannot be told in its rows`, unsure: true };
}

const sure = (order: DateOrder, why: string): OrderGuess => ({ order, why, unsure: false });

/** The times of the cells, ms, in the order of the rows. */
function timesIn(cells: readonly string[], zone: ZoneReader, order: DateOrder): readonly number[] {
  const memory = newTimeMemory();
  return cells.map((cell) => readTime(cell, zone, memory, order)).filter((ms) => !Number.isNaN(ms));
}

/** How often times go the other way than most: a log is written in the order of time, or the newest first. */
function turnsOf(timesMs: readonly number[]): number {
  const steps = timesMs.slice(1).map((ms, at) => Math.sign(Math.round((ms - timesMs[at]) / day)));
  const [back, on] = [-1, 1].map((way) => steps.filter((step) => step === way).length);
  return Math.min(back, on);
}

/** Days between the first and the last of times. */
function daysOf(timesMs: readonly number[]): number {
  const [low, high] = timesMs.reduce(
    ([least, most], ms) => [Math.min(least, ms), Math.max(most, ms)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
  return Math.round((high - low) / day);
}
