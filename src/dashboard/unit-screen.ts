import type { FleetView, UnitHistory, UnitView } from "../collector/fleet-view.ts";
import { age } from "../terms/time.ts";
import { earlierSection } from "./alarm-spans.ts";
import { chartSection, rowsPerStrip } from "./chart-section.ts";
import { footLines, keysOfReplay } from "./foot.ts";
import { headLines, rule } from "./head.ts";
import { beside, blank, emptyLine, ends, type Line, span } from "./line.ts";
import { clockTime, moment } from "./local-time.ts";
import { unanswered } from "./saying/acknowledge.ts";
import { stacked } from "./section.ts";
import { gutter } from "./strip-chart.ts";
import { alarmSections } from "./unit-alarms.ts";
import { logSection, quietRulesSection } from "./unit-log.ts";
import { peopleSection } from "./unit-people.ts";
import { readingSection } from "./unit-readings.ts";
import { clampTop } from "./viewport.ts";
import { stateText } from "./words.ts";
import { zoomOf } from "./zoom.ts";

/** Charts stand beside the text from this width on. */
const wideFrom = 132;
const gap = 2;

/** The unit's screen as laid out: fixed rows above, the text that scrolls, charts beside it where wide. */
export interface UnitLayout {
  readonly head: readonly Line[];
  readonly lines: readonly Line[];
  readonly parts: readonly number[];
  readonly charts: readonly Line[];
  readonly textWidth: number;
  /** Something waits to be acknowledged. */
  readonly waits: boolean;
}

export function unitLayout(
  unit: UnitView,
  view: FleetView,
  history: UnitHistory | null,
  zoom: number,
  silentMs: number,
  unicode: boolean,
  width: number,
  height: number,
): UnitLayout {
  const head = [...headLines(view, silentMs, width), ...unitHead(unit, view, width), rule(width)];
  const room = height - head.length - 2;
  const wide = width >= wideFrom;
  const textWidth = wide ? Math.floor((width - gap) * 0.5) : width;
  const chartWidth = wide ? width - textWidth - gap : width;
  const rows = rowsPerStrip(unit, room - 1, wide ? 2 : 3);
  const charts = chartSection(unit, view, history, zoomOf(zoom).words, chartWidth, rows, unicode);
  const { lines, starts } = stacked([
    ...alarmSections(unit, view, textWidth),
    ...peopleSection(unit, view, textWidth),
    readingSection(unit, view, textWidth),
    ...(wide ? [] : [charts]),
    ...earlierSection(unit, view, history, textWidth),
    quietRulesSection(unit, textWidth),
    logSection(unit, textWidth),
  ]);
  return {
    head,
    lines,
    parts: starts,
    charts: wide ? stacked([charts]).lines : [],
    textWidth,
    waits: unanswered(unit).length > 0,
  };
}

/** Points asked of the history for charts on a screen so wide: two a column in Braille. */
export function chartPoints(width: number, unicode: boolean): number {
  const chartWidth = width >= wideFrom ? width - Math.floor((width - gap) * 0.5) - gap : width;
  return Math.max(1, chartWidth - gutter) * (unicode ? 2 : 1);
}

/** The unit's screen from top to bottom, exactly `height` rows. */
export function unitScreen(
  layout: UnitLayout,
  view: FleetView,
  top: number,
  width: number,
  height: number,
): readonly Line[] {
  const room = Math.max(1, height - layout.head.length - 2);
  const first = clampTop(top, room, layout.lines.length);
  const rows = Array.from({ length: room }, (_, row): Line => {
    const text = layout.lines[first + row] ?? emptyLine;
    if (layout.charts.length === 0) return text;
    return beside(
      [
        { content: text, width: layout.textWidth },
        { content: layout.charts[row] ?? emptyLine, width: width - layout.textWidth - gap },
      ],
      gap,
    );
  });
  const below = layout.lines.length - first - room;
  const sight = [first > 0 ? `${first} rows above` : "", below > 0 ? `${below} rows below` : ""];
  const says = view.collector !== undefined;
  const keys =
    view.replay === undefined
      ? `Esc back · ${says && layout.waits ? "y acknowledges" : "left, right unit"} · Tab part · + - time${says ? " · w say" : ""} · ? explains · q quits`
      : `Esc back · ${keysOfReplay} · ? keys · q quits`;
  return [
    ...layout.head,
    ...rows,
    ...footLines(view, sight.filter((part) => part !== "").join(" · "), keys, width),
  ];
}

function unitHead(unit: UnitView, view: FleetView, width: number): readonly Line[] {
  const since =
    unit.sinceMs === null
      ? ""
      : ` since ${moment(unit.sinceMs, view.clockMs, view.timezone)} (${age(view.clockMs - unit.sinceMs)})`;
  const site = unit.site === null ? "" : ` · ${unit.site}`;
  const last =
    unit.lastReadingMs === null ? "no reading yet" : `last reading ${lastReading(unit.lastReadingMs, view)}`;
  return [
    ends(
      [blank(1), span(unit.id, "strong"), span(`${site} · ${stateText(unit)}${since}`)],
      [span(`${last} `)],
      width,
    ),
  ];
}

function lastReading(timeMs: number, view: FleetView): string {
  const today = moment(timeMs, view.clockMs, view.timezone);
  return today.includes(" ") ? today : clockTime(timeMs, view.timezone, true);
}
