import stringWidth from "string-width";

/** ASCII, and the box, block and Braille characters of the screen: one column each, no need to ask. */
const oneColumnEach = /^[\x20-\x7e°·×–—…‹›≈₃\u2500-\u25fc\u2800-\u28ff]*$/;
const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

/** Columns that `text` takes on a terminal: two for a wide character, none for a combining one. */
export function widthOf(text: string): number {
  return oneColumnEach.test(text) ? text.length : stringWidth(text);
}

/**
 * The start of `text` that fits into `width` columns, ending in an ellipsis where something is cut.
 * With `always`, an ellipsis is put even where the text itself would fit.
 */
export function truncate(text: string, width: number, always = false): string {
  if (width <= 0) return "";
  if (!always && widthOf(text) <= width) return text;
  let kept = "";
  let columns = 0;
  for (const { segment } of graphemes.segment(text)) {
    const next = columns + widthOf(segment);
    if (next > width - 1) break;
    kept += segment;
    columns = next;
  }
  return `${kept.trimEnd()}…`;
}

/** The end of `text` that fits, led by an ellipsis: for paths, whose end tells most. */
export function truncateStart(text: string, width: number): string {
  if (widthOf(text) <= width) return text;
  if (width <= 0) return "";
  let kept = "";
  let columns = 1;
  for (const segment of [...graphemes.segment(text)].map((part) => part.segment).reverse()) {
    const next = columns + widthOf(segment);
    if (next > width) break;
    kept = segment + kept;
    columns = next;
  }
  return `…${kept}`;
}

export function padEnd(text: string, width: number): string {
  return text + " ".repeat(Math.max(0, width - widthOf(text)));
}

export function padStart(text: string, width: number): string {
  return " ".repeat(Math.max(0, width - widthOf(text))) + text;
}

/** `text` broken at spaces into lines of at most `width` columns; a longer word is broken within. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let current = "";
  for (const word of text.split(/\s+/).filter((part) => part !== "")) {
    const joined = current === "" ? word : `${current} ${word}`;
    if (widthOf(joined) <= width) {
      current = joined;
      continue;
    }
    if (current !== "") lines.push(current);
    const pieces = widthOf(word) <= width ? [word] : broken(word, Math.max(1, width));
    current = pieces.pop() ?? "";
    lines.push(...pieces);
  }
  if (current !== "") lines.push(current);
  return lines;
}

function broken(word: string, width: number): string[] {
  const pieces: string[] = [];
  let current = "";
  for (const { segment } of graphemes.segment(word)) {
    if (current !== "" && widthOf(current) + widthOf(segment) > width) {
      pieces.push(current);
      current = "";
    }
    current += segment;
  }
  pieces.push(current);
  return pieces;
}
