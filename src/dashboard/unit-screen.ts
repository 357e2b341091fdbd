import type { FleetView, UnitView } from "../collector/fleet-view.ts";
import type { AlarmName } from "../terms/alarms.ts";
import { age } from "../terms/time.ts";
import { earlierSection } from "./alarm-spans.ts";
import type { ChartRows } from "./chart-place.ts";
import { chartSection, rowsPerStrip } from "./chart-section.ts";
import { driftHeight, driftSection } from "./drift-section.ts";
import { footLines } from "./foot.ts";
import { headLines, rule } from "./head.ts";
import { beside, blank, emptyLine, ends, type Line, span } from "./line.ts";
import { clockTime, moment } from "./local-time.ts";
import { markWords } from "./past-words.ts";
import { pinnedLines } from "./pinned-axis.ts";
import { unanswered } from "./saying/acknowledge.ts";
import { type Section, stacked } from "./section.ts";
import { gutter } from "./strip-chart.ts";
import { alarmSections } from "./unit-alarms.ts";
import { unitKeys } from "./unit-keys.ts";
import { logSection, quietRulesSection } from "./unit-log.ts";
import { peopleSection } from "./unit-people.ts";
import { readingSection } from "./unit-readings.ts";
import type { PastShown } from "./use-past.ts";
import { clampTop } from "./viewport.ts";
import { widthOf } from "./width.ts";
import { stateText } from "./words.ts";

/** Charts stand beside the text from this width on. */
const wideFrom = 132;
const gap = 2;
const none: ReadonlyMap<number, number> = new Map();

/** The unit's screen as laid out: fixed rows above, the text that scrolls, charts beside it where wide. */
export interface UnitLayout {
  readonly head: readonly Line[];
  readonly lines: readonly Line[];
  readonly parts: readonly number[];
  readonly charts: readonly Line[];
  readonly textWidth: number;
  /** Where the charts stand among the lines; null where they stand beside them. */
  readonly chartRows: ChartRows | null;
  readonly past: PastShown;
  /** The alarms that wait to be acknowledged, each by the line that names it. */
  readonly waiting: ReadonlyMap<AlarmName, number>;
}

export function unitLayout(
  unit: UnitView,
  view: FleetView,
  past: PastShown,
  silentMs: number,
  unicode: boolean,
  width: number,
  height: number,
): UnitLayout {
  const head = [...headLines(view, silentMs, width, unit.id), ...unitHead(unit, view, width), rule(width)];
  const room = height - head.length - 2;
  const wide = width >= wideFrom;
  const textWidth = wide ? Math.floor((width - gap) * 0.5) : width;
  const chartWidth = wide ? width - textWidth - gap : width;
  const history = past.history?.unit === unit.id ? past.history : null;
  const least = wide ? 2 : 3;
  // The drift stands under the strips where that leaves them legible.
  const withDrift = history?.drift ? rowsPerStrip(unit, history, room - driftHeight, least) : 0;
  const rows = withDrift > least ? withDrift : rowsPerStrip(unit, history, room - 1, least);
  const charts = chartSection(unit, view, past, chartWidth, rows, unicode);
  const drift = history?.drift ? [driftSection(history.drift, view, chartWidth, unicode)] : [];
  const all = [charts, ...drift];
  const fits = stacked(all).lines.length <= room;
  const above = [
    ...alarmSections(unit, view, textWidth),
    ...peopleSection(unit, view, textWidth),
    readingSection(unit, view, textWidth),
  ];
  const { lines, starts } = stacked([
    ...above,
    ...(wide ? (fits ? [] : drift) : [charts, ...drift]),
    ...earlierSection(unit, view, history, textWidth),
    quietRulesSection(unit, textWidth),
    logSection(unit, textWidth),
  ]);
  const chartTop = starts[above.length] ?? 0;
  return {
    head,
    lines,
    parts: starts,
    charts: wide ? stacked(fits ? all : [charts]).lines : [],
    chartRows: wide
      ? null
      : {
          from: chartTop,
          to: chartTop + charts.lines.length + 1,
          axis: charts.axisAt === null ? null : chartTop + 1 + charts.axisAt,
        },
    past,
    textWidth,
    waiting: waitingLines(unit, above, starts),
  };
}

function waitingLines(
  unit: UnitView,
  sections: readonly Section[],
  starts: readonly number[],
): ReadonlyMap<AlarmName, number> {
  const waits = new Set(unanswered(unit).map(({ alarm }) => alarm));
  return new Map(
    sections.flatMap(({ alarms = [] }, at) =>
      [...alarms]
        .filter(([alarm]) => waits.has(alarm))
        .map(([alarm, row]) => [alarm, (starts[at] ?? 0) + 1 + row]),
    ),
  );
}

/** Those that wait to be acknowledged and whose name is in sight, where `height` rows of the text are. */
export function waitingInSight(
  { waiting, lines }: UnitLayout,
  top: number,
  height: number,
): ReadonlySet<AlarmName> {
  const first = clampTop(top, height, lines.length);
  const seen = [...waiting].filter(([, row]) => row >= first && row < first + height);
  return new Set(seen.map(([alarm]) => alarm));
}

/** Columns that the charts' time takes on a screen so wide. */
export function chartColumns(width: number): number {
  const chartWidth = width >= wideFrom ? width - Math.floor((width - gap) * 0.5) - gap : width;
  return Math.max(1, chartWidth - gutter);
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
  const pinned = layout.chartRows === null ? none : pinnedLines(layout.chartRows, first, room);
  const rows = Array.from({ length: room }, (_, row): Line => {
    const text = layout.lines[pinned.get(row) ?? first + row] ?? emptyLine;
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
  const { chartRows, past, waiting } = layout;
  const { endMs, mark } = past.place;
  const sight = [
    chartRows !== null && mark !== null ? `mark at ${markWords(mark.timeMs, view)}` : "",
    first > 0 ? `${first} rows above` : "",
    below > 0 ? `${below} rows below` : "",
  ];
  const chartsInSight = chartRows === null || (chartRows.from + 1 < first + room && chartRows.to > first);
  const waits = { all: waiting.size, inSight: waitingInSight(layout, top, room).size };
  const keys = unitKeys(view, { waits, chartsInSight, marked: mark !== null, still: endMs !== null }, width);
  return [
    ...layout.head,
    ...rows,
    ...footLines(view, sight.filter((part) => part !== "").join(" · "), keys, width),
  ];
}

function unitHead(unit: UnitView, view: FleetView, width: number): readonly Line[] {
  const since = unit.sinceMs === null ? "" : ` since ${moment(unit.sinceMs, view.clockMs, view.timezone)}`;
  const lasted = unit.sinceMs === null ? "" : ` (${age(view.clockMs - unit.sinceMs)})`;
  const site = unit.site === null ? "" : ` · ${unit.site}`;
  const last =
    unit.lastReadingMs === null ? "no reading yet" : `last reading ${lastReading(unit.lastReadingMs, view)}`;
  const state = ` · ${stateText(unit)}${since}`;
  const room = width - widthOf(` ${unit.id} ${last} `) - 1;
  // What does not fit is left out rather than cut within: how long, then the site.
  const shown =
    [`${site}${state}${lasted}`, `${site}${state}`].find((text) => widthOf(text) <= room) ?? state;
  return [ends([blank(1), span(unit.id, "strong"), span(shown)], [span(`${last} `)], width)];
}

function lastReading(timeMs: number, view: FleetView): string {
  const today = moment(timeMs, view.clockMs, view.timezone);
  return today.includes(" ") ? today : clockTime(timeMs, view.timezone, true);
}
