import { linearRegression, median } from "simple-statistics";
import { seasonalTrend } from "../statistics/seasonal-trend.ts";
import { type Trend, trend } from "../statistics/trend.ts";
import { day, hour } from "../terms/time.ts";
import { shareOfWarmth, type Warmth } from "./water-warmth.ts";

/** A point is the median of the running within so much of the clock: like hours of like days are compared. */
export const pointSpanMs = 2 * hour;
/** So often must the hours have come, in the mean. */
const fewestTimes = 2.5;
/** So many days of a unit that runs at ever other hours are judged without them. */
const withoutHoursDays = 5;
/** Growth within so many standard deviations of what warmer water may do is no fouling. */
const doubts = 3;

/** Growth so far below clean is that of a feed that fails, or of a line that was foul when its baseline was taken (house choice). */
export const leastGrowth = -0.1;

/** Which part of the day a time lies in, UTC: the season of a point. */
export const hourOf = (timeMs: number) => Math.floor((timeMs % day) / pointSpanMs);

/** Points of growth as measured, a share of clean. Plain data. */
export interface PointList {
  pointMs: number[];
  growths: number[];
  /** How much warmer the water was than when clean, K; NaN where that is not known. */
  warmer: number[];
  /** The last that was known before these points, K; 0 where none was. */
  warmerBefore: number;
}

/** The points made like the clean ones. */
export interface Points {
  /** Days, 0 the last. */
  readonly days: readonly number[];
  /** Growth as it would stand with the water as warm as when clean, at the hours at which it was seen clean. */
  readonly levels: readonly number[];
  /** How these rise; null where like hours have not come often enough yet. */
  readonly line: Trend | null;
  /** So much of the last level, and of its rise a day, may yet be the warmth of the water. */
  readonly doubt: { readonly level: number; readonly perDay: number };
}

/** Whether like hours have come often enough: else nothing tells a trend from a step, nor from a swing. */
export function compares(hours: readonly number[]): boolean {
  return hours.length >= fewestTimes * new Set(hours).size;
}

/** The points without what the water's temperature and the time of day make of them. `cleanHours` as of `hourOf`. */
export function likeClean(
  { pointMs, growths, warmer: measured, warmerBefore }: PointList,
  warmth: Warmth,
  cleanHours: readonly number[],
): Points {
  const lastMs = pointMs[pointMs.length - 1];
  const days = pointMs.map((timeMs) => (timeMs - lastMs) / day);
  const hours = pointMs.map(hourOf);
  // A thermometer that is lost leaves the water as warm as it was.
  let known = warmerBefore;
  const warmer = measured.map((kelvin) => {
    if (!Number.isNaN(kelvin)) known = kelvin;
    return known;
  });
  const water = shareOfWarmth(warmth);
  const values = growths.map((growth, i) => growth - water.perK * warmer[i]);
  const warmingPerDay = days.length > 1 ? linearRegression(days.map((d, i) => [d, warmer[i]])).m : 0;
  const perK = doubts * water.doubt;
  // Cooler gas takes less pressure: only warming is mistaken for fouling (physics of gases).
  const doubt = {
    level: perK * Math.abs(warmer[warmer.length - 1]),
    perDay: perK * Math.max(0, warmingPerDay),
  };
  const line = compares(hours) ? seasonalTrend(days, values, hours) : null;
  // Who runs at ever other hours is judged without them once a swing would have shown itself in both directions.
  if (line === null && -days[0] >= withoutHoursDays)
    return { days, levels: values, line: trend(days, values), doubt };
  if (line === null) return { days, levels: values, line, doubt };
  const { intercepts } = line;
  const seenClean = cleanHours.flatMap((part) => intercepts.get(part) ?? []);
  const intercept = seenClean.length > 0 ? median(seenClean) : line.intercept;
  const levels = values.map((value, i) => value - (intercepts.get(hours[i]) ?? 0) + intercept);
  return { days, levels, line: { ...line, intercept }, doubt };
}
