import type { ReadingView, UnitView } from "../collector/fleet-view.ts";
import { trendMs } from "../collector/trend.ts";
import type { Channel } from "../terms/channels.ts";
import { age } from "../terms/time.ts";
import { indicator } from "./indicator.ts";
import { blank, type Line, type Span, span } from "./line.ts";
import { moment } from "./local-time.ts";
import { isPartlyJudged, partlyJudgedMark } from "./partly-judged.ts";
import { rowText, unitText } from "./reading-text.ts";
import { trendLine } from "./round/trend-line.ts";
import { padEnd, padStart, truncate, widthOf } from "./width.ts";
import { stateText } from "./words.ts";

const main = [
  ["motor_current", "current"],
  ["motor_temperature", "motor"],
  ["suction_pressure", "suction"],
  ["discharge_pressure", "discharge"],
  ["gas_pressure", "gas"],
] as const satisfies readonly (readonly [Channel, string])[];

interface ReadingColumn {
  readonly channel: Channel;
  readonly name: string;
  readonly unit: string;
  readonly numberWidth: number;
  /** Columns for the unit beside the number; 0 where it stands in the heading only. */
  readonly unitWidth: number;
  readonly indicatorWidth: number;
}

/** Widths of the dense table of quiet units, one set for all rows, so that numbers stand under numbers. */
export interface QuietColumns {
  readonly system: "si" | "us";
  readonly idWidth: number;
  readonly stateWidth: number;
  readonly readings: readonly ReadingColumn[];
  readonly ozoneWidth: number;
  /** 0 where there is no room for a small trend, or none to show. */
  readonly trendWidth: number;
}

const stateWidth = 9;
/** A small trend stands in tables from this width on. */
const trendFrom = 96;
const trendColumns = 12;

/** The table's columns for `units` in `width` columns: indicators take what the numbers leave. */
export function quietColumns(units: readonly UnitView[], system: "si" | "us", width: number): QuietColumns {
  const idWidth = Math.min(14, Math.max(4, ...units.map((unit) => widthOf(unit.id))));
  const ozone = units.map((unit) => unit.readings.find((reading) => reading.channel === "ozone"));
  const ozoneWidth = ozone.some((reading) => reading !== undefined)
    ? Math.max(2, ...ozone.map((reading) => ozoneText(reading).length))
    : 0;
  const present = main.filter(([channel]) => units.some((unit) => readingOf(unit, channel) !== undefined));
  const numbers = present.map(([channel]) =>
    Math.max(4, ...units.map((unit) => widthOf(numberOf(unit, channel, system)))),
  );
  const unitTexts = present.map(([channel]) => unitText(channel, system));
  const trendWidth = width >= trendFrom && units.some(({ trend }) => trend !== undefined) ? trendColumns : 0;
  const ozoneRoom = ozoneWidth === 0 ? 0 : ozoneWidth + 2;
  const fixed = 2 + idWidth + 1 + stateWidth + ozoneRoom + (trendWidth === 0 ? 0 : trendWidth + 2);
  const room = width - fixed - 2 * present.length - numbers.reduce((sum, n) => sum + n, 0);
  const unitRoom = unitTexts.reduce((sum, text) => sum + text.length + 1, 0);
  const count = Math.max(1, present.length);
  const inline = Math.floor((room - unitRoom) / count) >= 7;
  const share = Math.min(17, Math.floor((room - (inline ? unitRoom : 0)) / count));
  return {
    system,
    idWidth,
    stateWidth,
    ozoneWidth,
    trendWidth,
    readings: present.map(([channel, name], i) => ({
      channel,
      name,
      unit: unitTexts[i] ?? "",
      numberWidth: numbers[i] ?? 0,
      unitWidth: inline ? (unitTexts[i]?.length ?? 0) : 0,
      indicatorWidth: share < 3 ? 0 : share,
    })),
  };
}

/** Two rows above the table: what each column is, and its unit. */
export function quietHeading(columns: QuietColumns, title: string): readonly [Line, Line] {
  const names: Span[] = [span(padEnd(` ${title}`, columns.idWidth + columns.stateWidth + 3))];
  const units: Span[] = [
    span(`  ${padEnd("unit", columns.idWidth)} ${padEnd("state", columns.stateWidth)}`, "dim"),
  ];
  for (const column of columns.readings) {
    const width = cellWidth(column);
    names.push(blank(1), span(padEnd(truncate(column.name, width), width), "dim"));
    const unit = column.unitWidth > 0 ? "" : padStart(column.unit, column.numberWidth);
    units.push(blank(1), span(padEnd(unit, width), "dim"));
  }
  if (columns.ozoneWidth > 0) {
    names.push(blank(2), span(padEnd("O₃", columns.ozoneWidth), "dim"));
    units.push(blank(2 + columns.ozoneWidth));
  }
  if (columns.trendWidth > 0) {
    names.push(blank(2), span("discharge", "dim"));
    units.push(blank(2), span(`last ${age(trendMs)}`, "dim"));
  }
  return [names, units];
}

/**
 * One quiet unit: place for the selection's mark, id, state, each main reading on its scale, ozone. Dim where
 * its logs are still to be read.
 */
export function quietRow(unit: UnitView, columns: QuietColumns, nowMs: number, timezone: string): Line {
  const row = cells(unit, columns, nowMs, timezone);
  return unit.catchingUp ? row.map(({ text }) => span(text, "dim")) : row;
}

function cells(unit: UnitView, columns: QuietColumns, nowMs: number, timezone: string): Line {
  const row: Span[] = [
    blank(1),
    blank(1),
    blank(0),
    span(truncate(unit.id, columns.idWidth)),
    blank(columns.idWidth - Math.min(columns.idWidth, widthOf(unit.id)) + 1),
  ];
  const state = isPartlyJudged(unit) ? `${partlyJudgedMark} ${unit.state}` : stateText(unit);
  if (unit.state === "no readings" || unit.state === "laid up" || widthOf(state) > columns.stateWidth) {
    const from = unit.state === "no readings" ? unit.lastReadingMs : unit.sinceMs;
    const since = from === null ? "" : ` since ${moment(from, nowMs, timezone)}`;
    return [...row, span(`${state}${since}`)];
  }
  row.push(span(padEnd(state, columns.stateWidth)));
  for (const column of columns.readings) {
    const reading = readingOf(unit, column.channel);
    row.push(blank(1));
    if (reading === undefined) {
      row.push(blank(cellWidth(column)));
      continue;
    }
    const { number, unit: text } = rowText(reading.channel, reading.value, columns.system);
    row.push(span(padStart(number, column.numberWidth)));
    if (column.unitWidth > 0) row.push(span(` ${padEnd(text, column.unitWidth)}`, "dim"));
    if (column.indicatorWidth > 0) row.push(blank(1), ...indicator(reading, column.indicatorWidth));
  }
  const ozone = readingOf(unit, "ozone");
  if (columns.ozoneWidth > 0) row.push(blank(2), span(padEnd(ozoneText(ozone), columns.ozoneWidth)));
  if (columns.trendWidth > 0) {
    const reading = readingOf(unit, "discharge_pressure");
    row.push(blank(2), span(trendLine(unit.trend, reading, columns.trendWidth), "dim"));
  }
  return row;
}

function cellWidth(column: ReadingColumn): number {
  const unit = column.unitWidth > 0 ? column.unitWidth + 1 : 0;
  return column.numberWidth + unit + (column.indicatorWidth > 0 ? column.indicatorWidth + 1 : 0);
}

function readingOf(unit: UnitView, channel: Channel): ReadingView | undefined {
  return unit.readings.find((reading) => reading.channel === channel && reading.part === 0);
}

function numberOf(unit: UnitView, channel: Channel, system: "si" | "us"): string {
  return rowText(channel, readingOf(unit, channel)?.value ?? null, system).number;
}

function ozoneText(reading: ReadingView | undefined): string {
  return reading === undefined ? "" : rowText("ozone", reading.value, "si").number;
}
