import { visible } from "../terms/text.ts";
import { truncate, widthOf } from "./width.ts";

/** How a piece of a line stands out. Colour is kept for the three alarm priorities. */
export type Style = "plain" | "dim" | "strong" | "high" | "medium" | "low" | "selected";

/** A piece of a line in one style; its text is free of control characters. */
export interface Span {
  readonly text: string;
  readonly style: Style;
}

/** One row of the screen, or of a part of it. */
export type Line = readonly Span[];

export const emptyLine: Line = [];

/** `text` with its control characters made visible: the only way a text becomes a piece of a line. */
export function span(text: string, style: Style = "plain"): Span {
  return { text: visible(text), style };
}

/** A line of one style. */
export function line(text: string, style: Style = "plain"): Line {
  return [span(text, style)];
}

export function textOf(content: Line): string {
  return content.map((piece) => piece.text).join("");
}

/** Columns that `content` takes on the screen. */
export function lineWidth(content: Line): number {
  let width = 0;
  for (const piece of content) width += widthOf(piece.text);
  return width;
}

/** `content` made exactly `width` columns wide: cut with an ellipsis, or filled with spaces. */
export function fitted(content: Line, width: number): Line {
  const columns = lineWidth(content);
  if (columns <= width) return columns === width ? content : [...content, blank(width - columns)];
  const kept: Span[] = [];
  let left = width - 1;
  for (const piece of content) {
    const taken = widthOf(piece.text);
    if (taken <= left) {
      kept.push(piece);
      left -= taken;
      continue;
    }
    const cut = truncate(piece.text, left + 1, true);
    kept.push({ text: cut, style: piece.style });
    const rest = left + 1 - widthOf(cut);
    if (rest > 0) kept.push(blank(rest));
    break;
  }
  return kept;
}

/** So many empty columns. */
export function blank(width: number): Span {
  return { text: " ".repeat(Math.max(0, width)), style: "plain" };
}

/** `left` and `right` at the two ends of a row; `left` is cut where both do not fit. */
export function ends(left: Line, right: Line, width: number): Line {
  const rightWidth = lineWidth(right);
  if (rightWidth + 2 >= width) return fitted([...left, span("  "), ...right], width);
  return [...fitted(left, width - rightWidth - 1), span(" "), ...right];
}

/** Lines side by side, each in its own width with `gap` columns between. */
export function beside(parts: readonly { content: Line; width: number }[], gap: number): Line {
  return parts.flatMap(({ content, width }, index) =>
    index === 0 ? [...fitted(content, width)] : [blank(gap), ...fitted(content, width)],
  );
}
