import type { LayoutColumn } from "./dialect.ts";

/** A number of the log as the channel stores it; −∞ or +∞ where a 4–20 mA loop signals its failure, low or high. */
export function convert(column: LayoutColumn, number: number): number {
  // NAMUR NE 43: a loop at 3.6 mA or below, 21 mA or above, is in failure and carries no measurement.
  if (column.loop && number <= 3.6) return Number.NEGATIVE_INFINITY;
  if (column.loop && number >= 21) return Number.POSITIVE_INFINITY;
  const value = number * column.factor + column.offset;
  if (column.vacuum === "no") return value;
  return column.vacuum === "inverted" ? 0 - value : 0 - Math.abs(value);
}

/** Whether `convert` leaves every number as it is. */
export function convertsNothing({ factor, offset, vacuum, loop }: LayoutColumn): boolean {
  return factor === 1 && offset === 0 && vacuum === "no" && !loop;
}
