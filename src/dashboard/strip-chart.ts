import type { ReadingView, UnitHistory } from "../collector/fleet-view.ts";
import { type Line, span } from "./line.ts";
import { type Raster, raster } from "./raster.ts";
import { markColumn, markedRow, readAt } from "./reading-mark.ts";
import { readingText, unitText } from "./reading-text.ts";
import { padEnd, padStart, truncate, widthOf } from "./width.ts";
import { channelWords } from "./words.ts";

/** Columns left of every chart: the channel's name and the ends of its scale, and the scale itself. */
export const gutter = 22;
const nameWidth = 13;
const numberWidth = 6;

interface Scale {
  readonly low: number;
  readonly high: number;
}

/** One quantity over time, and what its scale bears. */
export interface Strip {
  readonly name: string;
  readonly unit: string;
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly number: (value: number) => string;
  readonly normal: { readonly low: number; readonly high: number } | null;
  readonly limitLow: number | null;
  readonly limitHigh: number | null;
}

/** A channel as a strip; `reading` tells its normal band and its limits. */
export function channelStrip(
  { channel, low, high }: UnitHistory["signals"][number],
  reading: ReadingView | undefined,
  system: "si" | "us",
): Strip {
  return {
    name: channelWords[channel],
    unit: unitText(channel, system),
    low,
    high,
    number: (value) => readingText(channel, value, system).number,
    normal: reading?.normal ?? null,
    limitLow: reading?.limitLow ?? null,
    limitHigh: reading?.limitHigh ?? null,
  };
}

/**
 * A strip `rows` rows high: on the scale at its left `┃` is the normal band and `┤` a limit; each point spans
 * the extremes read in its time; where nothing was read there is nothing. At a mark it says what was read there.
 */
export function stripChart(
  history: UnitHistory,
  strip: Strip,
  width: number,
  rows: number,
  unicode: boolean,
  markMs: number | null = null,
): readonly Line[] {
  const chartWidth = Math.max(1, width - gutter);
  const picture = raster(chartWidth, rows, unicode);
  const scale = scaleOf(strip);
  const levelOf = (value: number): number =>
    Math.round(((value - scale.low) / (scale.high - scale.low)) * (picture.levels - 1));
  for (const limit of [strip.limitLow, strip.limitHigh]) {
    if (limit === null || limit < scale.low || limit > scale.high) continue;
    for (let point = 0; point < picture.points; point += 8) picture.set(point, levelOf(limit));
  }
  drawRange(history, strip, picture, levelOf);
  const column = markColumn(history, markMs, chartWidth);
  const found = column === null ? null : readAt(history, strip, column, chartWidth);
  return picture.rows().map((text, row): Line => {
    const value = row === 0 ? scale.high : row === rows - 1 ? scale.low : null;
    const number = value === null ? "" : strip.number(value);
    const side = scaleMark(strip, row, rows, levelOf, picture.levels);
    return [
      ...labelOf(strip, row, number, column === null ? undefined : found),
      span(side, side === "│" ? "dim" : "plain"),
      ...markedRow(text, column),
    ];
  });
}

/** Left of the scale: the name, then the unit or what was read at the mark (null: nothing was). */
function labelOf(
  strip: Strip,
  row: number,
  number: string,
  marked: ReturnType<typeof readAt> | undefined,
): Line {
  const isMarked = row === 1 && marked !== undefined;
  const room = isMarked && number === "" ? nameWidth + numberWidth : nameWidth;
  const label =
    row === 0 ? strip.name : isMarked ? readText(strip, marked, room) : row === 1 ? strip.unit : "";
  const style = row === 0 ? "plain" : isMarked ? "strong" : "dim";
  return [
    span(` ${padEnd(truncate(label, room), room)}`, style),
    span(`${room > nameWidth ? "" : padStart(truncate(number, numberWidth), numberWidth)} `, "dim"),
  ];
}

/** What was read, with its unit where there is room. */
function readText(strip: Strip, found: ReturnType<typeof readAt>, room: number): string {
  if (found === null) return "–";
  const [low, high] = [strip.number(found.low), strip.number(found.high)];
  const forms =
    low === high
      ? [`${low} ${strip.unit}`]
      : [`${low} to ${high} ${strip.unit}`, `${low} to ${high}`, `${low}..${high}`];
  return forms.find((text) => widthOf(text) <= room) ?? forms[forms.length - 1] ?? "";
}

function drawRange(
  history: UnitHistory,
  strip: Strip,
  picture: Raster,
  levelOf: (value: number) => number,
): void {
  const reach = history.toMs - history.fromMs;
  const joinedPoints = Math.max(1, (history.heldMs / reach) * picture.points);
  let before: { readonly point: number; readonly low: number; readonly high: number } | null = null;
  for (const [index, timeMs] of history.timeMs.entries()) {
    const low = strip.low[index] ?? Number.NaN;
    const high = strip.high[index] ?? Number.NaN;
    if (!Number.isFinite(low) || !Number.isFinite(high)) continue;
    const point = Math.floor(((timeMs - history.fromMs) / reach) * picture.points);
    let from = levelOf(low);
    let to = levelOf(high);
    if (before !== null && point - before.point <= 1) {
      // Joined to the point before, so that a step is seen as one line.
      if (before.high < from) from = before.high;
      if (before.low > to) to = before.low;
    } else if (before !== null && point - before.point <= joinedPoints) {
      drawLine(picture, before.point, (before.low + before.high) / 2, point, (from + to) / 2);
    }
    for (let level = from; level <= to; level++) picture.set(point, level);
    before = { point, low: levelOf(low), high: levelOf(high) };
  }
}

/** A straight line between two points of a raster. */
export function drawLine(
  picture: Raster,
  fromPoint: number,
  fromLevel: number,
  toPoint: number,
  toLevel: number,
): void {
  const steps = Math.max(1, Math.abs(toPoint - fromPoint), Math.ceil(Math.abs(toLevel - fromLevel)));
  for (let step = 0; step <= steps; step++) {
    const share = step / steps;
    picture.set(
      Math.round(fromPoint + share * (toPoint - fromPoint)),
      Math.round(fromLevel + share * (toLevel - fromLevel)),
    );
  }
}

/** What was read, the normal band, and a limit that is near; never a flat scale. */
function scaleOf({ low: lows, high: highs, normal, limitLow, limitHigh }: Strip): Scale {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const take = (value: number): void => {
    if (value < low) low = value;
    if (value > high) high = value;
  };
  for (const value of lows) if (Number.isFinite(value)) take(value);
  for (const value of highs) if (Number.isFinite(value)) take(value);
  if (normal !== null) {
    take(normal.low);
    take(normal.high);
  }
  if (low > high) return { low: 0, high: 1 };
  const spread = Math.max(high - low, Math.abs(high) * 0.02, 1e-3);
  if (limitHigh !== null && limitHigh <= high + spread) take(limitHigh);
  if (limitLow !== null && limitLow >= low - spread) take(limitLow);
  return high - low < spread ? { low: low - spread / 2, high: high + spread / 2 } : { low, high };
}

function scaleMark(
  { normal, limitLow, limitHigh }: Strip,
  row: number,
  rows: number,
  levelOf: (value: number) => number,
  levels: number,
): string {
  const perRow = levels / rows;
  const bottom = levels - (row + 1) * perRow;
  const top = bottom + perRow;
  const inRow = (value: number | null): boolean => {
    if (value === null) return false;
    const level = levelOf(value);
    return level >= bottom && level < top;
  };
  if (inRow(limitLow) || inRow(limitHigh)) return "┤";
  if (normal === null) return "│";
  return levelOf(normal.high) >= bottom && levelOf(normal.low) < top ? "┃" : "│";
}
