import { linearRegression, median } from "simple-statistics";
import { seasonalTrend } from "../statistics/seasonal-trend.ts";
import type { Trend } from "../statistics/trend.ts";
import { day, hour } from "../terms/time.ts";
import { shareOfWarmth, type Warmth } from "./water-warmth.ts";

/** A point is the median of the running within so much of the clock: like hours of like days are compared. */
export const pointSpanMs = 2 * hour;
/** So often must the hours have come, in the mean. */
const fewestTimes = 2.5;
/** Growth within so many standard deviations of what warmer water may do is no fouling. */
const doubts = 3;

/** Which part of the day a time lies in, UTC: the season of a point. */
export const hourOf = (timeMs: number) => Math.floor((timeMs % day) / pointSpanMs);

/** Points of growth as measured, a share of clean. Plain data. */
export interface PointList {
  pointMs: number[];
  growths: number[];
  /** How much warmer the water was than when clean, K; 0 where that is not known. */
  warmer: number[];
}

/** The points made like the clean ones. */
export interface Points {
  /** Days, 0 the last. */
  readonly days: readonly number[];
  /** Growth as it would stand with the water as warm as when clean, at the hours at which it was seen clean. */
  readonly levels: readonly number[];
  /** How these rise; null where the hours have not come often enough. */
  readonly line: Trend | null;
  /** So much of the last level, and of its rise a day, may yet be the warmth of the water. */
  readonly doubt: { readonly level: number; readonly perDay: number };
}

/** The points without what the water's temperature and the time of day make of them. `cleanHours` as of `hourOf`. */
export function likeClean(
  { pointMs, growths, warmer }: PointList,
  warmth: Warmth,
  cleanHours: readonly number[],
): Points {
  const lastMs = pointMs[pointMs.length - 1];
  const days = pointMs.map((timeMs) => (timeMs - lastMs) / day);
  const hours = pointMs.map(hourOf);
  const water = shareOfWarmth(warmth);
  const values = growths.map((growth, i) => growth - water.perK * warmer[i]);
  const warmingPerDay = days.length > 1 ? linearRegression(days.map((d, i) => [d, warmer[i]])).m : 0;
  const perK = doubts * water.doubt;
  // Cooler gas takes less pressure: only warming is mistaken for fouling (physics of gases).
  const doubt = {
    level: perK * Math.abs(warmer[warmer.length - 1]),
    perDay: perK * Math.max(0, warmingPerDay),
  };
  // Where few hours have come three times nothing tells a trend from a step, nor from a swing.
  const compares = days.length >= fewestTimes * new Set(hours).size;
  const line = compares ? seasonalTrend(days, values, hours) : null;
  if (line === null) return { days, levels: values, line, doubt };
  const { intercepts } = line;
  const known = cleanHours.flatMap((part) => intercepts.get(part) ?? []);
  const intercept = known.length > 0 ? median(known) : line.intercept;
  const levels = values.map((value, i) => value - (intercepts.get(hours[i]) ?? 0) + intercept);
  return { days, levels, line: { ...line, intercept }, doubt };
}
