import { levelReached } from "../statistics/level-reached.ts";
import { mannKendall } from "../statistics/mann-kendall.ts";
import { type Trend, trend } from "../statistics/trend.ts";
import { day } from "../terms/time.ts";
import type { Points } from "./fouling-points.ts";

/** Fewer points, or a shorter time, may be one day's weather. */
const fewestPoints = 6;
const leastSpanDays = 1.5;
/** Two-sided chance below which a trend counts as one, and up to which it goes on counting. */
const significant = 0.01;
const stillSignificant = 0.05;
/** A rise over the window by so many times the least that is told is one, however its points follow each other. */
const plainRises = 2;

/** How a line's growth stands: shares of its clean value, times in ms; `latestMs` may be +∞. */
export interface Fouling {
  /** The newest point. */
  readonly atMs: number;
  readonly growth: number;
  /** A recorded cleaning has left it; without a trend since then it has no rate and no dates (NaN). */
  readonly outlastsCleaning: boolean;
  readonly growthPerDay: number;
  readonly dueMs: number;
  readonly earliestMs: number;
  readonly latestMs: number;
}

export interface FoulingLimits {
  /** Growth at which it must be cleaned, as a share of clean. */
  readonly limit: number;
  /** Growth below which nothing is said, likewise. */
  readonly least: number;
  /** A limit that is reached later than this is not worth telling, ms. */
  readonly horizonMs: number;
  /** The hours of the day at which it was seen clean, as of `hourOf`; empty where those say nothing. */
  readonly cleanHours: readonly number[];
}

/** Without a rate there is one date, or none (NaN). */
export function dueAt(timeMs: number) {
  return { growthPerDay: Number.NaN, dueMs: timeMs, earliestMs: timeMs, latestMs: timeMs };
}

/** The trend of the points up to `lastMs` and when it reaches its limit; null where there is none to tell. `known`: it was told before. */
export function foulingTrend(
  points: Points,
  lastMs: number,
  known: boolean,
  { limit, least, horizonMs }: FoulingLimits,
): Omit<Fouling, "outlastsCleaning"> | null {
  const { days, levels, line, doubt } = points;
  const growth = levels[levels.length - 1];
  if (line === null || days.length < fewestPoints || -days[0] < leastSpanDays) return null;
  // A curved rise leaves residuals that follow each other; one several times the least is no wander of gauges.
  const plain = growth - levels[0] >= plainRises * least && mannKendall(levels).p < significant;
  if (!(plain || line.p < (known ? stillSignificant : significant))) return null;
  if (!(line.slope > doubt.perDay)) return null;
  const half = days.slice(-Math.max(2, days.length >> 1));
  const late = trend(half, levels.slice(-half.length));
  // Where the rise has begun within the window the whole line lags, and the later half of the points tells better.
  const begun = late.slope > line.slope;
  const { at } = begun ? levelReached(late, half, limit) : levelReached(line, days, limit);
  const whole = reached(line, days, limit, doubt);
  const later = reached(late, half, limit, doubt);
  const slows = late.slope < line.low;
  const earliest =
    begun && !Number.isFinite(line.high) ? later.earliest : Math.min(whole.earliest, later.earliest);
  const latest = slows ? Math.max(whole.latest, later.latest) : Math.min(whole.latest, later.latest);
  if (at * day > horizonMs) return null;
  const onMs = (daysOn: number) => lastMs + daysOn * day;
  return {
    atMs: lastMs,
    growth,
    growthPerDay: begun ? late.slope : line.slope,
    dueMs: onMs(at),
    earliestMs: onMs(Math.min(at, earliest)),
    latestMs: onMs(Math.max(at, latest)),
  };
}

function reached(line: Trend, days: readonly number[], limit: number, doubt: Points["doubt"]) {
  const wide = { ...line, low: line.low - doubt.perDay, high: line.high + doubt.perDay };
  const { earliest } = levelReached(wide, days, limit - doubt.level);
  const { latest } = levelReached(wide, days, limit + doubt.level);
  return { earliest, latest };
}

/** What was found, while its rise rests. */
export function rested(fouling: Fouling, growth: number, lastMs: number, { limit }: FoulingLimits): Fouling {
  const { growthPerDay, dueMs, earliestMs, latestMs } = fouling;
  if (Number.isNaN(growthPerDay)) return { ...fouling, atMs: lastMs, growth };
  const due = lastMs + (Math.max(0, limit - growth) / growthPerDay) * day;
  return {
    ...fouling,
    atMs: lastMs,
    growth,
    dueMs: due,
    earliestMs: due + earliestMs - dueMs,
    latestMs: due + latestMs - dueMs,
  };
}
