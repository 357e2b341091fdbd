import type { FleetView, UnitHistory } from "../collector/fleet-view.ts";
import { day } from "../terms/time.ts";
import { type Line, span } from "./line.ts";
import { localDate, moment } from "./local-time.ts";
import { raster } from "./raster.ts";
import { quantityText, readingText, unitText } from "./reading-text.ts";
import { paragraph, type Section } from "./section.ts";
import { drawLine, gutter } from "./strip-chart.ts";
import { timeAxis } from "./time-axis.ts";
import { padEnd, padStart, truncate } from "./width.ts";
import { channelWords } from "./words.ts";

type Drift = NonNullable<UnitHistory["drift"]>;

const driftRows = 6;
/** Rows that it takes with its title, a row between, its axis and two rows of words. */
export const driftHeight = driftRows + 6;
/** So much later than the limit is reached, or without a forecast than the last point, as a share of the axis. */
const roomAfter = 0.06;
/** The trend is that of the last three days; under two its lack says nothing (house choice). */
const leastTrendMs = 2 * day;
const leastReachMs = 4 * day;
/** A forecast whose end is open, or far off, is drawn so many times as far as its date. */
const mostBeyond = 2;

/**
 * What fouling is judged by, at like running: each point of some hours, and where a date is told the forecast as a fan
 * that reaches the limit between its earliest and its latest date.
 */
export function driftSection(
  drift: Drift,
  view: Pick<FleetView, "display" | "timezone" | "clockMs">,
  width: number,
  unicode: boolean,
): Section {
  const { channel, points, forecast, clean, limit } = drift;
  const chartWidth = Math.max(1, width - gutter);
  const picture = raster(chartWidth, driftRows, unicode);
  const fromMs = points[0]?.timeMs ?? 0;
  const lastMs = points.at(-1)?.timeMs ?? fromMs;
  const endMs = forecast === null ? lastMs : farthest(forecast);
  const toMs = fromMs + Math.max(leastReachMs, (endMs - fromMs) * (1 + roomAfter));
  const values = [...points.map(({ value }) => value), clean, limit];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const levelOf = (value: number): number =>
    Math.round(((value - low) / Math.max(high - low, 1e-9)) * (picture.levels - 1));
  const pointOf = (timeMs: number): number =>
    Math.floor(((timeMs - fromMs) / (toMs - fromMs)) * picture.points);
  for (const value of [limit, clean])
    for (let point = 0; point < picture.points; point += 6) picture.set(point, levelOf(value));
  for (const { timeMs, value } of points) picture.set(pointOf(timeMs), levelOf(value));
  if (forecast !== null) {
    const { atMs, value, dueMs, earliestMs, latestMs } = forecast;
    for (const reachedMs of [earliestMs, dueMs, latestMs]) {
      const isOpen = reachedMs > endMs;
      const share = isOpen ? (endMs - atMs) / (reachedMs - atMs) : 1;
      drawLine(
        picture,
        pointOf(atMs),
        levelOf(value),
        pointOf(isOpen ? endMs : reachedMs),
        levelOf(value + share * (limit - value)),
      );
    }
  }
  const rowOf = (value: number): number =>
    Math.floor(((picture.levels - 1 - levelOf(value)) / picture.levels) * driftRows);
  const unit = unitText(channel, view.display);
  const lines = picture.rows().map((text, row): Line => {
    const [name, value] =
      row === rowOf(limit) ? ["limit", limit] : row === rowOf(clean) ? ["clean", clean] : ["", null];
    const number = value === null ? "" : readingText(channel, value, view.display).number;
    return [
      span(` ${padEnd(name === "" ? "" : `${name}, ${unit}`, 13)}`, "dim"),
      span(`${padStart(truncate(number, 6), 6)} │`, "dim"),
      span(text),
    ];
  });
  const what = channelWords[channel];
  return {
    title: `${what.charAt(0).toUpperCase()}${what.slice(1)} at like running`,
    lines: [
      ...lines,
      ...timeAxis(fromMs, toMs, chartWidth, gutter, view.timezone),
      ...paragraph("   ", words(drift, view), width, "plain"),
    ],
  };
}

function farthest({ atMs, dueMs, latestMs }: NonNullable<Drift["forecast"]>): number {
  return Math.min(latestMs, atMs + mostBeyond * (dueMs - atMs));
}

function words(
  { channel, points, forecast, clean, limit }: Drift,
  view: Pick<FleetView, "display" | "timezone" | "clockMs">,
) {
  const value = (stored: number): string => quantityText(channel, stored, view.display);
  const newest = points.at(-1);
  const last = newest?.value ?? clean;
  const at = newest === undefined ? "" : `, ${moment(newest.timeMs, view.clockMs, view.timezone)}`;
  const stands = `${value(last)} last at like running${at}; ${value(clean)} when clean`;
  if (forecast === null) {
    const past = limit > clean ? last >= limit : last <= limit;
    if (past) return `${stands}: past its limit of ${value(limit)}`;
    const days = (newest?.timeMs ?? 0) - (points[0]?.timeMs ?? 0);
    return `${stands}: ${days < leastTrendMs ? "too few days yet to tell a trend" : "no trend towards its limit"}`;
  }
  const date = (timeMs: number): string => localDate(timeMs, view.timezone);
  const { dueMs, earliestMs, latestMs, atMs } = forecast;
  const latest =
    latestMs > atMs + 366 * day ? "its end is open yet" : `${date(earliestMs)} to ${date(latestMs)}`;
  return `${stands}: it reaches ${value(limit)}, where cleaning is due, about ${date(dueMs)} (${latest})`;
}
