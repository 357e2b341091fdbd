import type { LogSample } from "../../acquire/sample.ts";
import { timeCell } from "../../acquire/time-cell.ts";

/** How a log writes its numbers and dates, where they show it. */
export interface Notation {
  readonly decimal?: "comma" | "point";
  /** Dates with dots, which are read day first. */
  readonly dots: boolean;
}

export function notationOf({ stretches, time: { index, date } }: LogSample): Notation {
  const rows = stretches.flat();
  const cells = rows.flatMap((row) => row.filter((_, i) => i !== index && i !== date));
  const has = (shape: RegExp) => cells.some((cell) => shape.test(cell));
  const comma = has(/^\s*[-+]?\d*,\d+\s*$/);
  const point = has(/^\s*[-+]?\d*\.\d+\s*$/);
  const [row = []] = rows;
  return {
    ...((comma || point) && { decimal: comma ? "comma" : "point" }),
    dots: /^\s*\d\d?\.\d\d?\.\d/.test(timeCell(row, { time: index, date })),
  };
}
