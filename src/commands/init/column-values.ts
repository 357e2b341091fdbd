import { quantileSorted } from "simple-statistics";
import { readNumber, readStatus, unreadable } from "../../acquire/cell.ts";
import type { LogSample } from "../../acquire/sample.ts";

/** A column's cells over some samples of logs with the same header. */
export interface ColumnValues {
  readonly header: string;
  readonly index: number;
  /** A number a row; NaN where it is missing or none. */
  readonly numbers: readonly number[];
  /** Whether nearly all that is written there are numbers, or states. */
  readonly isNumber: boolean;
  readonly isStatus: boolean;
}

const nearlyAll = 0.9;

/** A column of samples with one header, each as loggers write it. */
export function columnValues(samples: readonly LogSample[], index: number): ColumnValues {
  const [first] = samples;
  const commaParts = first?.delimiter === ",";
  const cells = samples.flatMap(({ stretches }) => stretches.flat().map((row) => row[index] ?? ""));
  const numbers = cells.map((cell) => readNumber(cell, commaParts));
  const written = numbers.filter((number) => !Number.isNaN(number));
  const readable = written.filter((number) => number !== unreadable).length;
  const states = cells.map((cell) => readStatus(cell, true)).filter((state) => !Number.isNaN(state));
  const known = states.filter((state) => state !== unreadable).length;
  return {
    header: first?.cells[index] ?? "",
    index,
    numbers: numbers.map((number) => (number === unreadable ? Number.NaN : number)),
    isNumber: written.length > 0 && readable >= nearlyAll * written.length,
    isStatus: states.length > 0 && known >= nearlyAll * states.length,
  };
}

/** What a column's numbers are like: its middle and the ends of all but the outermost twentieths. */
export interface Likeness {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
  /** The larger end by amount. */
  readonly largest: number;
}

/** Undefined where there is no number. */
export function likenessOf(numbers: readonly number[]): Likeness | undefined {
  const known = numbers.filter((number) => !Number.isNaN(number)).toSorted((a, b) => a - b);
  if (known.length === 0) return undefined;
  const at = (share: number) => quantileSorted(known, share);
  const [low, middle, high] = [at(0.05), at(0.5), at(0.95)];
  return { low, middle, high, largest: Math.max(Math.abs(low), Math.abs(high)) };
}
