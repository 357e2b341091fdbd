import { visible } from "../terms/text.ts";

/** A cell: text, a number that stays one, or nothing. */
export type Cell = string | number | null;

/** With what a spreadsheet begins a formula, in half and full width. */
const formula = /^[=+\-@\t\r\n＝＋－＠]/;

function cellText(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return Number.isFinite(cell) ? String(cell) : "";
  const shown = formula.test(cell) ? `'${visible(cell)}` : visible(cell);
  return /[",\r\n]/.test(shown) ? `"${shown.replaceAll('"', '""')}"` : shown;
}

/**
 * Rows as CSV by RFC 4180, a line each. Text that a spreadsheet would take for a formula is led by an apostrophe; control
 * characters are made visible.
 */
export function* csvLines(rows: Iterable<readonly Cell[]>): Generator<string> {
  for (const row of rows) yield `${row.map(cellText).join(",")}\r\n`;
}
