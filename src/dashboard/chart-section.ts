import type { FleetView, UnitHistory, UnitView } from "../collector/fleet-view.ts";
import { alarmSpanLines, alarmSpans } from "./alarm-spans.ts";
import { type Line, line, span } from "./line.ts";
import { drawnWords, runningWords, titleWords } from "./past-words.ts";
import { markColumn, markedRow, readAt } from "./reading-mark.ts";
import { isMeasured, readingText } from "./reading-text.ts";
import type { Section } from "./section.ts";
import { serviceLines } from "./service-spans.ts";
import { channelStrip, gutter, type Strip, stripChart } from "./strip-chart.ts";
import { timeAxis } from "./time-axis.ts";
import type { PastShown } from "./use-past.ts";
import { padEnd, wrap } from "./width.ts";
import { channelWords } from "./words.ts";
import { zoomOf } from "./zoom.ts";

const mostAlarms = 4;
const mostWorks = 2;
/** Axis, hours run, and what it is drawn from. */
const rowsBelow = 5;

/** The charts, and at which of their lines the time axis begins; null where there is none yet. */
interface ChartSection extends Section {
  readonly axisAt: number | null;
}

/** The channels over the shown time, one strip under another on one time axis, alarms and services beneath. */
export function chartSection(
  unit: UnitView,
  view: FleetView,
  past: PastShown,
  width: number,
  rowsPerChart: number,
  unicode: boolean,
): ChartSection {
  const { history, place } = past;
  const title = titleWords(past, zoomOf(place.zoom).words, view);
  if (history === null || history.unit !== unit.id)
    return { title, lines: [line("   reading the past …", "dim")], axisAt: null };
  const chartWidth = width - gutter;
  const markMs = place.mark?.timeMs ?? null;
  const mark = markColumn(history, markMs, chartWidth);
  const strips = stripsOf(unit, view, history);
  const lines: Line[] = strips.flatMap((strip) =>
    stripChart(history, strip, width, rowsPerChart, unicode, markMs),
  );
  for (const signal of history.signals)
    if (!isMeasured(signal)) lines.push(statusStrip(history, signal, chartWidth, mark));
  const columnMs = (history.toMs - history.fromMs) / chartWidth;
  const empty = strips.length === 0 && past.isCurrent && !history.refinable;
  const above = empty
    ? [line(unit.catchingUp ? "   not read yet" : "   nothing was read in this time")]
    : lines;
  return {
    title,
    axisAt: above.length,
    lines: [
      ...above,
      ...timeAxis(history.fromMs, history.toMs, chartWidth, gutter, view.timezone, mark),
      ...alarmSpanLines(alarmSpans(unit, history), history, chartWidth, gutter, mostAlarms, mark),
      ...serviceLines(history, chartWidth, gutter, mostWorks, mark),
      line(`   ${runningWords(history.running, past.isCurrent)}`),
      ...wrap(drawnWords(past, columnMs, view), Math.max(10, width - 4)).map((row) =>
        line(`   ${row}`, "dim"),
      ),
    ],
  };
}

/** The measured channels, and what is worked out of them. */
function stripsOf(unit: UnitView, view: FleetView, history: UnitHistory): readonly Strip[] {
  const strips = history.signals.filter(isMeasured).map((signal) =>
    channelStrip(
      signal,
      unit.readings.find((each) => each.channel === signal.channel && each.part === signal.part),
      view.display,
    ),
  );
  const { npsh } = history;
  if (npsh === null) return strips;
  const level = "water_level";
  return [
    ...strips,
    {
      name: "NPSH at gauge",
      unit: readingText(level, Number.NaN, view.display).unit,
      low: npsh.low,
      high: npsh.high,
      number: (value) => readingText(level, value, view.display).number,
      normal: null,
      limitLow: npsh.requiredM,
      limitHigh: null,
    },
  ];
}

/** Rows for each strip so that all fit into `height` rows: `least` at least, 8 at most. */
export function rowsPerStrip(
  unit: UnitView,
  history: UnitHistory | null,
  height: number,
  least: number,
): number {
  const strips = Math.max(1, unit.readings.filter(isMeasured).length + (history?.npsh ? 1 : 0));
  const statuses = unit.readings.length - unit.readings.filter(isMeasured).length;
  const room = height - 1 - rowsBelow - statuses - mostAlarms - mostWorks;
  return Math.max(least, Math.min(8, Math.floor(room / strips)));
}

/** On and off over time: `━` on, `·` off, `×` fault or both; a reading counts until the next, as long as it does. */
function statusStrip(
  history: UnitHistory,
  signal: UnitHistory["signals"][number],
  width: number,
  mark: number | null,
): Line {
  const cells = Array.from({ length: width }, (_, column) => {
    const found = readAt(history, signal, column, width);
    if (found === null) return " ";
    return found.high >= 2 ? "×" : found.high >= 1 ? "━" : "·";
  });
  const found = mark === null ? null : readAt(history, signal, mark, width);
  const marked = found === null ? "" : ` ${readingText(signal.channel, found.high, "si").number}`;
  return [
    span(` ${padEnd(channelWords[signal.channel] + marked, gutter - 2)}│`),
    ...markedRow(cells.join(""), mark),
  ];
}
