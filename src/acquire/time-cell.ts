import type { Layout } from "./dialect.ts";

const clockAlone = /^(\d\d?):(\d\d)(?::(\d\d))?(?=$|[.,\sZz+-])(.*)$/;

/** Whether a cell is a time of the day, and no more. */
export const isClock = (cell: string): boolean => clockAlone.test(cell.trim());

/** A date and a time of the day as one time would be written. */
export function joined(date: string, clock: string): string {
  const [, hour = "", minute, second = "00", rest = ""] = clockAlone.exec(clock.trim()) ?? [];
  return `${date.trim()} ${hour.padStart(2, "0")}:${minute}:${second}${rest}`;
}

/** The time of a row as it is written: where its cell is a time of the day, after the date from its own column. */
export function timeCell(cells: readonly string[], { time, date }: Pick<Layout, "time" | "date">): string {
  const cell = cells[time] ?? "";
  return date === undefined || !isClock(cell) ? cell : joined(cells[date] ?? "", cell);
}
