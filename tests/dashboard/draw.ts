import { fitted, type Line, lineWidth, textOf } from "../../src/dashboard/line.ts";

/** Lines as the screen's rows, without the spaces at their ends. */
export function drawn(lines: readonly Line[], width = 80): readonly string[] {
  return lines.map((content) => textOf(fitted(content, width)).trimEnd());
}

/** Widths of the rows as the terminal counts them. */
export function widths(lines: readonly Line[]): readonly number[] {
  return lines.map(lineWidth);
}
