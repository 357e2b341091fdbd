import type { FleetView, UnitHistory, UnitView } from "../collector/fleet-view.ts";
import { alarmSpanLines, alarmSpans } from "./alarm-spans.ts";
import { type Line, line, span } from "./line.ts";
import { isMeasured } from "./reading-text.ts";
import type { Section } from "./section.ts";
import { gutter, stripChart } from "./strip-chart.ts";
import { timeAxis } from "./time-axis.ts";
import { padEnd } from "./width.ts";
import { channelWords } from "./words.ts";

const mostAlarms = 4;

/** The channels over the last hours, one strip under another on one time axis, alarms beneath. */
export function chartSection(
  unit: UnitView,
  view: FleetView,
  history: UnitHistory | null,
  zoom: string,
  width: number,
  rowsPerChart: number,
  unicode: boolean,
): Section {
  const title = `The last ${zoom}`;
  if (history === null || history.unit !== unit.id)
    return { title, lines: [line("   reading the past …", "dim")] };
  const charted = history.signals.filter(isMeasured);
  if (charted.length === 0)
    return { title, lines: [line(unit.catchingUp ? "   not read yet" : "   nothing was read in this time")] };
  const lines: Line[] = [];
  for (const signal of charted) {
    const reading = unit.readings.find(
      (each) => each.channel === signal.channel && each.part === signal.part,
    );
    lines.push(...stripChart(history, signal, reading, view.display, width, rowsPerChart, unicode));
  }
  const chartWidth = width - gutter;
  for (const signal of history.signals)
    if (!isMeasured(signal)) lines.push(statusStrip(history, signal, chartWidth));
  lines.push(...timeAxis(history.fromMs, history.toMs, chartWidth, gutter, view.timezone));
  lines.push(...alarmSpanLines(alarmSpans(unit, history), history, chartWidth, gutter, mostAlarms));
  return { title, lines };
}

/** Rows for each strip so that all fit into `height` rows: `least` at least, 8 at most. */
export function rowsPerStrip(unit: UnitView, height: number, least: number): number {
  const strips = Math.max(1, unit.readings.filter(isMeasured).length);
  const statuses = unit.readings.length - unit.readings.filter(isMeasured).length;
  return Math.max(least, Math.min(8, Math.floor((height - 3 - statuses - mostAlarms) / strips)));
}

/** On and off over time: `━` on, `·` off, `×` fault or both. */
function statusStrip(history: UnitHistory, signal: UnitHistory["signals"][number], width: number): Line {
  const cells = Array.from({ length: width }, () => " ");
  for (const [index, timeMs] of history.timeMs.entries()) {
    const high = signal.high[index] ?? Number.NaN;
    if (Number.isNaN(high)) continue;
    const column = Math.floor(((timeMs - history.fromMs) / (history.toMs - history.fromMs)) * width);
    if (cells[column] === "×") continue;
    cells[column] = high >= 2 ? "×" : high >= 1 ? "━" : cells[column] === "━" ? "━" : "·";
  }
  return [span(` ${padEnd(channelWords[signal.channel], gutter - 2)}│`), span(cells.join(""))];
}
