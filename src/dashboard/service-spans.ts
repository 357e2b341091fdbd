import type { UnitHistory } from "../collector/fleet-view.ts";
import { takesBack } from "../fleet/services.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { type Line, span } from "./line.ts";
import { markedRow } from "./reading-mark.ts";
import { padEnd, truncate } from "./width.ts";

/** When a work was under way, or was recorded as done at one moment. */
export interface ServiceSpan {
  readonly work: ServiceRecord["work"];
  readonly fromMs: number;
  readonly toMs: number;
}

/** Every work in the history's time, oldest first; one that has not ended goes on to its end. */
export function serviceSpans({ services, fromMs, toMs }: UnitHistory): readonly ServiceSpan[] {
  const spans: ServiceSpan[] = [];
  const begun = new Map<ServiceRecord["work"], number>();
  for (const record of services) {
    const { work, step, atMs } = record;
    const sinceMs = begun.get(work);
    if (step === "begin" && !takesBack(record)) {
      if (sinceMs === undefined) begun.set(work, atMs);
    } else if (step === "done" || step === "confirm" || step === "relearn") {
      spans.push({ work, fromMs: atMs, toMs: atMs });
    } else if (sinceMs !== undefined) {
      spans.push({ work, fromMs: sinceMs, toMs: atMs });
      begun.delete(work);
    }
  }
  for (const [work, sinceMs] of begun) spans.push({ work, fromMs: sinceMs, toMs });
  return spans.filter((one) => one.toMs >= fromMs && one.fromMs < toMs);
}

/** One row a work, at most `most`: `◇` where it began and ended or was done, `─` while it was under way. */
export function serviceLines(
  history: UnitHistory,
  width: number,
  indent: number,
  most: number,
  mark: number | null,
): readonly Line[] {
  const spans = serviceSpans(history);
  const works = [...new Set(spans.map(({ work }) => work))].slice(0, most);
  const columnOf = (timeMs: number): number =>
    Math.floor(((timeMs - history.fromMs) / (history.toMs - history.fromMs)) * width);
  return works.map((work): Line => {
    const cells = Array.from({ length: width }, () => " ");
    for (const one of spans) {
      if (one.work !== work) continue;
      const first = columnOf(one.fromMs);
      const last = columnOf(one.toMs);
      for (let column = Math.max(0, first); column <= Math.min(width - 1, last); column++)
        cells[column] = column === first || column === last ? "◇" : cells[column] === "◇" ? "◇" : "─";
    }
    return [
      span(` ◇ ${padEnd(truncate(work, indent - 5), indent - 4)}│`),
      ...markedRow(cells.join(""), mark),
    ];
  });
}
