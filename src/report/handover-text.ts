import { wrap } from "../dashboard/width.ts";
import type { Handover } from "./handover.ts";

/** What stands over a handover: the fleet and the time, since when, whatever limits it. */
export interface HandoverHead {
  readonly title: string;
  readonly lines: readonly string[];
}

const columns = 80;
/** What every handover ends with. */
export const closing =
  "Silence is no proof of safety: a unit that nothing is told of may still be in trouble. Tarnwatch stops no pump and no ozone cell.";

/** Said where nothing came, went, was said or done. */
export function quietLine(since: string): string {
  return `Nothing new since ${since}: no alarm came or went, and nothing was said or done.`;
}

/** A handover as lines of text of at most 80 columns. */
export function handoverText({ title, lines }: HandoverHead, { sections }: Handover): string[] {
  return [
    ...wrap(title, columns),
    ...lines.flatMap((line) => wrap(line, columns)),
    ...sections.flatMap(({ title: head, items }) => [
      "",
      head.toUpperCase(),
      ...items.flatMap((item) => wrap(item, columns - 2).map((line, i) => `${i === 0 ? "- " : "  "}${line}`)),
    ]),
    "",
    ...wrap(closing, columns),
  ];
}

/** Marks that Markdown would take for more than text (CommonMark 0.31.2, 2.4 Backslash escapes). */
const marks = /[\\`*_{}[\]<>#|~&!]/g;

function plain(text: string): string {
  return text.replace(marks, "\\$&").replace(/^(\d*)([-+.)])/, "$1\\$2");
}

/** A handover as Markdown (CommonMark), a line an item. */
export function handoverMarkdown({ title, lines }: HandoverHead, { sections }: Handover): string[] {
  return [
    `# ${plain(title)}`,
    ...lines.flatMap((line) => ["", plain(line)]),
    ...sections.flatMap(({ title: head, items }) => [
      "",
      `## ${head}`,
      "",
      ...items.map((item) => `- ${plain(item)}`),
    ]),
    "",
    `_${plain(closing)}_`,
  ];
}
