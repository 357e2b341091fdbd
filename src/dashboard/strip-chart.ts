import type { ReadingView, UnitHistory } from "../collector/fleet-view.ts";
import { type Line, span } from "./line.ts";
import { raster } from "./raster.ts";
import { quantityText, readingText } from "./reading-text.ts";
import { padEnd, padStart, truncate } from "./width.ts";
import { channelWords } from "./words.ts";

/** Columns left of every chart: the channel's name and the ends of its scale, and the scale itself. */
export const gutter = 22;

interface Scale {
  readonly low: number;
  readonly high: number;
}

/**
 * One channel over time, `rows` rows high: on the scale at its left `┃` is the normal band and `┤` a
 * limit; each point spans the extremes read in its time; where nothing was read there is nothing.
 */
export function stripChart(
  history: UnitHistory,
  signal: UnitHistory["signals"][number],
  reading: ReadingView | undefined,
  system: "si" | "us",
  width: number,
  rows: number,
  unicode: boolean,
): readonly Line[] {
  const picture = raster(Math.max(1, width - gutter), rows, unicode);
  const scale = scaleOf(signal, reading);
  const levelOf = (value: number): number =>
    Math.round(((value - scale.low) / (scale.high - scale.low)) * (picture.levels - 1));
  for (const limit of [reading?.limitLow ?? null, reading?.limitHigh ?? null]) {
    if (limit === null || limit < scale.low || limit > scale.high) continue;
    for (let point = 0; point < picture.points; point += 8) picture.set(point, levelOf(limit));
  }
  drawRange(history, signal, picture, levelOf);
  const name = channelWords[signal.channel];
  return picture.rows().map((text, row): Line => {
    const label = row === 0 ? name : row === 1 ? unitName(signal.channel, system) : "";
    const value = row === 0 ? scale.high : row === rows - 1 ? scale.low : null;
    const number = value === null ? "" : readingText(signal.channel, value, system).number;
    const mark = scaleMark(reading, row, rows, levelOf, picture.levels);
    return [
      span(` ${padEnd(truncate(label, 13), 13)}`, row === 0 ? "plain" : "dim"),
      span(`${padStart(truncate(number, 6), 6)} `, "dim"),
      span(mark, mark === "│" ? "dim" : "plain"),
      span(text),
    ];
  });
}

function unitName(channel: ReadingView["channel"], system: "si" | "us"): string {
  return quantityText(channel, Number.NaN, system).replace(/^– ?/, "");
}

function drawRange(
  history: UnitHistory,
  signal: UnitHistory["signals"][number],
  picture: ReturnType<typeof raster>,
  levelOf: (value: number) => number,
): void {
  const reach = history.toMs - history.fromMs;
  let before: { readonly point: number; readonly low: number; readonly high: number } | null = null;
  for (const [index, timeMs] of history.timeMs.entries()) {
    const low = signal.low[index] ?? Number.NaN;
    const high = signal.high[index] ?? Number.NaN;
    if (!Number.isFinite(low) || !Number.isFinite(high)) continue;
    const point = Math.floor(((timeMs - history.fromMs) / reach) * picture.points);
    let from = levelOf(low);
    let to = levelOf(high);
    if (before !== null && point - before.point <= 1) {
      // Joined to the point before, so that a step is seen as one line.
      if (before.high < from) from = before.high;
      if (before.low > to) to = before.low;
    }
    for (let level = from; level <= to; level++) picture.set(point, level);
    before = { point, low: levelOf(low), high: levelOf(high) };
  }
}

/** What was read, the normal band, and a limit that is near; never a flat scale. */
function scaleOf(signal: UnitHistory["signals"][number], reading: ReadingView | undefined): Scale {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const take = (value: number): void => {
    if (value < low) low = value;
    if (value > high) high = value;
  };
  for (const value of signal.low) if (Number.isFinite(value)) take(value);
  for (const value of signal.high) if (Number.isFinite(value)) take(value);
  if (reading?.normal) {
    take(reading.normal.low);
    take(reading.normal.high);
  }
  if (low > high) return { low: 0, high: 1 };
  const spread = Math.max(high - low, Math.abs(high) * 0.02, 1e-3);
  const { limitLow = null, limitHigh = null } = reading ?? {};
  if (limitHigh !== null && limitHigh <= high + spread) take(limitHigh);
  if (limitLow !== null && limitLow >= low - spread) take(limitLow);
  return high - low < spread ? { low: low - spread / 2, high: high + spread / 2 } : { low, high };
}

function scaleMark(
  reading: ReadingView | undefined,
  row: number,
  rows: number,
  levelOf: (value: number) => number,
  levels: number,
): string {
  const perRow = levels / rows;
  const bottom = levels - (row + 1) * perRow;
  const top = bottom + perRow;
  const inRow = (value: number | null | undefined): boolean => {
    if (value === null || value === undefined) return false;
    const level = levelOf(value);
    return level >= bottom && level < top;
  };
  if (inRow(reading?.limitLow) || inRow(reading?.limitHigh)) return "┤";
  const normal = reading?.normal;
  if (!normal) return "│";
  return levelOf(normal.high) >= bottom && levelOf(normal.low) < top ? "┃" : "│";
}
