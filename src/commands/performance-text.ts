import type { PerformanceView } from "../collector/read-performance.ts";
import { forWhom, performanceText } from "../dashboard/performance-lines.ts";
import { visible } from "../terms/text.ts";
import { table } from "./table.ts";

/** A window's figures beside the standards', for people; `askedMs`: how long a window was asked for. */
export function performanceLines(figures: PerformanceView, askedMs: number): string[] {
  const { title, figures: rows, lists } = performanceText(figures, askedMs);
  return [
    title,
    ...table([
      ["", "here", "the standards", ""],
      ...rows.map(({ what, here, standard, verdict }) => [what, here, standard, verdict]),
    ]),
    ...lists.flatMap(({ title: head, lines }) => [head, ...lines.map((line) => `  ${visible(line)}`)]),
    forWhom,
  ];
}
