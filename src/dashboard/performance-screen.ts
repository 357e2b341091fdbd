import type { FleetView } from "../collector/fleet-view.ts";
import type { PerformanceView } from "../collector/read-performance.ts";
import { footLines } from "./foot.ts";
import { headLines, rule } from "./head.ts";
import { emptyLine, ends, type Line, line, type Style, span } from "./line.ts";
import { moment } from "./local-time.ts";
import { type FigureRow, forWhom, performanceText } from "./performance-lines.ts";
import { type PerformancePlace, performanceWindows } from "./performance-place.ts";
import { periodChoice } from "./period.ts";
import { paragraph } from "./section.ts";
import { clampTop } from "./viewport.ts";
import { padEnd, padStart } from "./width.ts";

/** What has come of asking for the figures of all windows. */
export interface PerformanceAnswer {
  /** Null until the first answer; of a window null where nothing is known of it. */
  readonly figures: readonly (PerformanceView | null)[] | null;
  /** Why they cannot be read. */
  readonly problem: string | null;
}

const keys = "Esc back · + - less, more time · arrows scroll · ? keys · q quits";

/** The part of the screen that scrolls. */
export function performanceRows(
  answer: PerformanceAnswer,
  window: number,
  timezone: string,
  width: number,
): readonly Line[] {
  const { figures, problem } = answer;
  if (problem !== null) return paragraph("   ", `the alarm history cannot be read: ${problem}`, width);
  if (figures === null) return [line("   reading the alarm history")];
  const shown = figures[window] ?? null;
  if (shown === null) return [line("   nothing is kept of this time yet")];
  const { title, figures: rows, lists } = performanceText(shown, performanceWindows[window].ms);
  const at = (timeMs: number): string => moment(timeMs, shown.toMs, timezone);
  return [
    line(`   ${at(shown.fromMs)} to ${at(shown.toMs)}`),
    ...paragraph("   ", title, width),
    tableRow({ what: "", here: "here", standard: "the standards", verdict: "" }, "dim"),
    ...rows.map((row) => tableRow(row, styleOf(row))),
    ...paragraph("   ", forWhom, width),
    ...lists.flatMap((list) => [
      emptyLine,
      line(` ${list.title}`, "strong"),
      ...list.lines.flatMap((text) => paragraph("   ", text, width)),
    ]),
  ];
}

function styleOf({ verdict }: FigureRow): Style {
  if (verdict === "over") return "strong";
  return verdict === "too few data" ? "dim" : "plain";
}

function tableRow(
  { what, here, standard, verdict }: Record<"what" | "here" | "standard" | "verdict", string>,
  style: Style,
): Line {
  return line(`   ${padEnd(what, 24)}${padStart(here, 11)}   ${padEnd(standard, 22)}   ${verdict}`, style);
}

/** The screen from top to bottom, exactly `height` rows. */
export function performanceScreen(
  rows: readonly Line[],
  view: FleetView,
  place: PerformancePlace,
  silentMs: number,
  width: number,
  height: number,
): readonly Line[] {
  const windows = periodChoice(performanceWindows, place.window);
  const head = [
    ...headLines(view, silentMs, width),
    ends([span(" Alarm performance of the fleet", "strong")], [...windows, span(" ")], width),
    rule(width),
  ];
  const room = Math.max(1, height - head.length - 2);
  const first = clampTop(place.top, room, rows.length);
  const shown = rows.slice(first, first + room);
  const below = rows.length - first - shown.length;
  return [
    ...head,
    ...shown,
    ...Array.from({ length: room - shown.length }, () => emptyLine),
    ...footLines(view, below > 0 ? `${below} rows below` : "", keys, width),
  ];
}

/** Rows of it that scroll. */
export function performanceHeight(view: FleetView, silentMs: number, height: number): number {
  return Math.max(1, height - headLines(view, silentMs, 80).length - 4);
}
