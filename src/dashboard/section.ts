import type { AlarmName } from "../terms/alarms.ts";
import { emptyLine, type Line, line, type Span, span } from "./line.ts";
import { wrap } from "./width.ts";

/** A part of the unit's screen under one heading; Tab goes from one to the next. */
export interface Section {
  readonly title: string;
  readonly lines: readonly Line[];
  /** The alarms that are told of, each by the row among `lines` that names it. */
  readonly alarms?: ReadonlyMap<AlarmName, number>;
}

/** Sections one under another with a blank row between, and the row at which each begins. */
export function stacked(sections: readonly Section[]): {
  readonly lines: readonly Line[];
  readonly starts: readonly number[];
} {
  const lines: Line[] = [];
  const starts: number[] = [];
  for (const section of sections) {
    if (lines.length > 0) lines.push(emptyLine);
    starts.push(lines.length);
    lines.push(line(` ${section.title}`, "strong"), ...section.lines);
  }
  return { lines, starts };
}

/** `text` wrapped, with `lead` before its first row and the same indent under it. */
export function paragraph(
  lead: string,
  text: string,
  width: number,
  style: Span["style"] = "plain",
): readonly Line[] {
  const room = Math.max(10, width - lead.length - 1);
  const blankLead = " ".repeat(lead.length);
  return wrap(text, room).map((part, index) => [span(index === 0 ? lead : blankLead, style), span(part)]);
}

/** A list with a word before its first item: `what to do   1. …`. */
export function list(
  word: string,
  items: readonly string[],
  numbered: boolean,
  width: number,
): readonly Line[] {
  return items.flatMap((item, index) => {
    const label = (index === 0 ? word : "").padEnd(16);
    return paragraph(`   ${label}${numbered ? `${index + 1}. ` : items.length > 1 ? "· " : ""}`, item, width);
  });
}
