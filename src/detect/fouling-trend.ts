import { median } from "simple-statistics";
import { levelReached } from "../statistics/level-reached.ts";
import { mannKendall } from "../statistics/mann-kendall.ts";
import { trend } from "../statistics/trend.ts";
import { day, hour, minute } from "../terms/time.ts";

/** One value so often is enough for a median, and bounds what is remembered. */
const spacingMs = 2 * minute;
/** A longer step between values is a stop or a gap, and counts as no more running than this. */
const longestStepMs = 15 * minute;
/** Running that makes one point: long enough for its median to hold still, short enough for six a day. */
const pointMs = 4 * hour;
/** The trend is that of the last days: an older flat stretch would hide a line that has begun to foul. */
const windowMs = 3 * day;
/** A unit that runs little needs more days for as many points. */
const fewestKept = 8;
const mostKept = 40;
/** Fewer points, or a shorter time, may be one day's weather. */
const fewestPoints = 6;
const leastSpanMs = 1.5 * day;
/** Two-sided chance below which a trend counts as one, and up to which it goes on counting. */
const significant = 0.01;
const stillSignificant = 0.05;
/** A rise over the window by so many times the least that is told is one, however its points follow each other. */
const plainRises = 2;
/** A fall by this part of the growth says that somebody cleaned the line and did not record it. */
const cleanedShare = 0.5;
/** After a recorded cleaning so much growth, and this part of what it was, is left: it did not bring the line back (house choice). */
const leastLeft = 0.05;
const leftShare = 0.5;

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

/** Points of growth over clean, and what has been gathered for the next one. Plain data. */
export interface FoulingTrend {
  pointMs: number[];
  growths: number[];
  gathered: number[];
  gatheredFromMs: number;
  gatheredToMs: number;
  gatheredRunMs: number;
  /** No value is taken before this time, ms. */
  nextMs: number;
  /** Growth that outlasts the last recorded cleaning is so much or more; null where that left less, or none is recorded. */
  leftFrom: number | null;
  fouling: Fouling | null;
}

export interface FoulingLimits {
  /** Growth at which it must be cleaned, as a share of clean. */
  readonly limit: number;
  /** Growth below which nothing is said, likewise. */
  readonly least: number;
  /** A limit that is reached later than this is not worth telling, ms. */
  readonly horizonMs: number;
}

export function startFoulingTrend(): FoulingTrend {
  return {
    pointMs: [],
    growths: [],
    gathered: [],
    gatheredFromMs: 0,
    gatheredToMs: 0,
    gatheredRunMs: 0,
    nextMs: 0,
    leftFrom: null,
    fouling: null,
  };
}

/** The line has been cleaned: what was before says nothing of what comes. */
export function forget(state: FoulingTrend): void {
  const grown = state.growths.at(-1);
  let { leftFrom } = state;
  if (grown !== undefined) leftFrom = grown >= leastLeft ? Math.max(leastLeft, leftShare * grown) : null;
  Object.assign(state, startFoulingTrend(), { nextMs: state.nextMs, leftFrom });
}

/** Takes in the growth at one reading of comparable running, not before `nextMs`; judges anew where a point is full. */
export function gather(state: FoulingTrend, timeMs: number, growth: number, limits: FoulingLimits): void {
  const first = state.gathered.length === 0;
  if (first) state.gatheredFromMs = timeMs;
  state.gatheredRunMs += first ? spacingMs : Math.min(timeMs - state.gatheredToMs, longestStepMs);
  state.gatheredToMs = timeMs;
  state.gathered.push(growth);
  state.nextMs = timeMs + spacingMs;
  if (state.gatheredRunMs < pointMs) return;
  addPoint(state, (state.gatheredFromMs + timeMs) / 2, median(state.gathered));
  state.gathered = [];
  state.gatheredRunMs = 0;
  state.fouling = judge(state, limits);
}

function addPoint(state: FoulingTrend, atMs: number, growth: number): void {
  const before = state.growths.at(-1) ?? growth;
  const grown = before - Math.min(...state.growths, before);
  if (grown > 0.04 && before - growth > cleanedShare * grown) {
    state.pointMs = [];
    state.growths = [];
    state.fouling = null;
  }
  state.pointMs.push(atMs);
  state.growths.push(growth);
  while (
    state.pointMs.length > mostKept ||
    (state.pointMs.length > fewestKept && state.pointMs[0] < atMs - windowMs)
  ) {
    state.pointMs.shift();
    state.growths.shift();
  }
}

function judge(state: FoulingTrend, limits: FoulingLimits): Fouling | null {
  const { pointMs, growths, fouling } = state;
  const growth = growths[growths.length - 1];
  const lastMs = pointMs[pointMs.length - 1];
  if (state.leftFrom !== null && growth < state.leftFrom) state.leftFrom = null;
  const outlastsCleaning = state.leftFrom !== null;
  if (growth < limits.least) return null;
  const known = fouling !== null && !Number.isNaN(fouling.dueMs);
  const found = foulingTrend(pointMs, growths, known, limits);
  if (found !== null) return { ...found, outlastsCleaning };
  if (Math.min(growth, growths.at(-2) ?? 0) >= limits.limit) {
    return { atMs: lastMs, growth, outlastsCleaning, ...dueAt(lastMs) };
  }
  // Fouling does not undo itself: once found it stays until it is cleaned, and its date moves on while it rests.
  if (known) return { ...rested(fouling, growth, lastMs, limits), outlastsCleaning };
  return outlastsCleaning ? { atMs: lastMs, growth, outlastsCleaning, ...dueAt(Number.NaN) } : null;
}

/** Without a rate there is one date, or none (NaN). */
function dueAt(timeMs: number) {
  return { growthPerDay: Number.NaN, dueMs: timeMs, earliestMs: timeMs, latestMs: timeMs };
}

function foulingTrend(
  times: readonly number[],
  growths: readonly number[],
  known: boolean,
  { limit, least, horizonMs }: FoulingLimits,
): Omit<Fouling, "outlastsCleaning"> | null {
  const growth = growths[growths.length - 1];
  const lastMs = times[times.length - 1];
  if (times.length < fewestPoints || lastMs - times[0] < leastSpanMs) return null;
  const days = times.map((timeMs) => (timeMs - lastMs) / day);
  const line = trend(days, growths);
  // A curved rise leaves residuals that follow each other; one several times the least is no wander of gauges.
  const plain = growth - growths[0] >= plainRises * least && mannKendall(growths).p < significant;
  if (!(line.slope > 0) || !(plain || line.p < (known ? stillSignificant : significant))) return null;
  const half = days.slice(-Math.max(2, days.length >> 1));
  // Where a flat stretch lies before the rise, the later half of the points tells better when the limit is reached.
  const late = plain ? trend(half, growths.slice(-half.length)) : line;
  const bent = late.slope > line.slope;
  const { at, earliest, latest } = bent ? levelReached(late, half, limit) : levelReached(line, days, limit);
  if (at * day > horizonMs) return null;
  const onMs = (daysOn: number) => lastMs + daysOn * day;
  return {
    atMs: lastMs,
    growth,
    growthPerDay: bent ? late.slope : line.slope,
    dueMs: onMs(at),
    earliestMs: onMs(earliest),
    latestMs: onMs(latest),
  };
}

function rested(fouling: Fouling, growth: number, lastMs: number, { limit }: FoulingLimits): Fouling {
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
