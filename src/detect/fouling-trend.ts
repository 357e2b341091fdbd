import { median } from "simple-statistics";
import { day, hour, minute } from "../terms/time.ts";
import { dueAt, type Fouling, type FoulingLimits, foulingTrend, rested } from "./fouling-forecast.ts";
import { compares, hourOf, leastGrowth, likeClean, type PointList, pointSpanMs } from "./fouling-points.ts";
import { startWarmth, takeIn, type Warmth } from "./water-warmth.ts";

/** One value so often is enough for a median, and bounds what is remembered. */
const spacingMs = 2 * minute;
/** A longer step between values is a stop or a gap, and counts as no more running than this. */
const longestStepMs = 15 * minute;
/** Less running is gathered further, over as many days as it takes. */
const leastRunMs = 1 * hour;
/** The trend is that of the last days: an older flat stretch would hide a line that has begun to foul. */
const windowMs = 3 * day;
/** A unit that runs little needs more days for as many points. */
const fewestKept = 8;
const mostKept = 60;
/** Once found it is told until its growth is below this part of the least. */
const goneShare = 0.5;
/** So many points of running at the least growth, and the line is not as foul as it was: a day of it. */
const mostLow = 12;
/** A fall by this part of the growth, two points running, says that somebody cleaned the line and did not record it. */
const cleanedShare = 0.5;
/** Less growth than this is not told from a cleaning by its fall. */
const leastCleaned = 0.04;
/** After a recorded cleaning so much growth, and this part of what it was, is left: it did not bring the line back (house choice). */
const leastLeft = 0.05;
const leftShare = 0.5;

/** Points of growth over clean, and what has been gathered for the next one. Plain data. */
export interface FoulingTrend extends PointList {
  warmth: Warmth;
  /** How many points running were at the least growth: they are counted, and no points. */
  lowPoints: number;
  gathered: number[];
  gatheredWarmer: number[];
  gatheredFromMs: number;
  /** Half of its running lies before this time, ms. */
  gatheredMiddleMs: number;
  gatheredToMs: number;
  gatheredRunMs: number;
  /** No value is taken before this time, ms. */
  nextMs: number;
  /** Growth at the last point, made like clean; null before the first. */
  level: number | null;
  /** Growth that outlasts the last recorded cleaning is so much or more; null where that left less, or none is recorded. */
  leftFrom: number | null;
  fouling: Fouling | null;
}

export function startFoulingTrend(): FoulingTrend {
  return {
    pointMs: [],
    growths: [],
    warmer: [],
    warmerBefore: 0,
    warmth: startWarmth(),
    lowPoints: 0,
    gathered: [],
    gatheredWarmer: [],
    gatheredFromMs: 0,
    gatheredMiddleMs: 0,
    gatheredToMs: 0,
    gatheredRunMs: 0,
    nextMs: 0,
    level: null,
    leftFrom: null,
    fouling: null,
  };
}

/** From how much growth on a cleaning did not bring the line back, by the growth before it; null where that was too little to tell. */
export function leftByCleaning(growth: number): number | null {
  return growth >= leastLeft ? Math.max(leastLeft, leftShare * growth) : null;
}

/** The line has been cleaned: what was before says nothing of what comes, but for how water and hours move it. */
export function forget(state: FoulingTrend): void {
  const { level, nextMs, warmth } = state;
  keepLast(state, 0);
  const { warmerBefore } = state;
  let { leftFrom } = state;
  if (level !== null) leftFrom = leftByCleaning(level);
  Object.assign(state, startFoulingTrend(), { nextMs, warmth, warmerBefore, leftFrom });
}

/**
 * Takes in the growth at one reading of comparable running, not before `nextMs`, with how much warmer the water
 * was than when clean (K, NaN where unknown); judges anew where a point is full.
 */
export function gather(
  state: FoulingTrend,
  timeMs: number,
  growth: number,
  warmer: number,
  limits: FoulingLimits,
): void {
  const full =
    state.gatheredRunMs >= leastRunMs &&
    Math.floor(timeMs / pointSpanMs) !== Math.floor(state.gatheredFromMs / pointSpanMs);
  if (full) {
    addPoint(state);
    if (state.lowPoints === 0) state.fouling = judge(state, limits);
    state.gathered = [];
    state.gatheredWarmer = [];
    state.gatheredRunMs = 0;
  }
  const first = state.gathered.length === 0;
  if (first) state.gatheredFromMs = timeMs;
  state.gatheredRunMs += first ? spacingMs : Math.min(timeMs - state.gatheredToMs, longestStepMs);
  state.gatheredToMs = timeMs;
  if (state.gatheredRunMs <= leastRunMs / 2) state.gatheredMiddleMs = timeMs;
  state.gathered.push(growth);
  if (!Number.isNaN(warmer)) state.gatheredWarmer.push(warmer);
  state.nextMs = timeMs + spacingMs;
}

function addPoint(state: FoulingTrend): void {
  const { pointMs, growths, warmer, warmth } = state;
  const atMs = state.gatheredMiddleMs;
  const growth = median(state.gathered);
  state.lowPoints = growth <= leastGrowth ? state.lowPoints + 1 : 0;
  if (state.lowPoints >= mostLow) {
    keepLast(state, 0);
    state.fouling = null;
  }
  if (state.lowPoints > 0) return;
  const warm = state.gatheredWarmer.length > 0 ? median(state.gatheredWarmer) : Number.NaN;
  const before = pointMs.findLastIndex((timeMs) => hourOf(timeMs) === hourOf(atMs));
  const warming = before >= 0 && pointMs[before] > atMs - 1.5 * day ? warm - warmer[before] : Number.NaN;
  if (!Number.isNaN(warming)) takeIn(warmth, warming, growth - growths[before]);
  pointMs.push(atMs);
  growths.push(growth);
  warmer.push(warm);
  const old = () => pointMs.length > fewestKept && pointMs[0] < atMs - windowMs;
  while (pointMs.length > mostKept || (old() && compares(pointMs.slice(1).map(hourOf)))) {
    keepLast(state, pointMs.length - 1);
  }
}

function keepLast(state: FoulingTrend, many: number): void {
  const { pointMs, growths, warmer } = state;
  const gone = pointMs.length - many;
  state.warmerBefore =
    warmer.slice(0, gone).findLast((kelvin) => !Number.isNaN(kelvin)) ?? state.warmerBefore;
  for (const list of [pointMs, growths, warmer]) list.splice(0, gone);
}

/** How many of the last points, up to two, lie below half of the growth that there was. */
function fallen(levels: readonly number[]): number {
  if (levels.length < 4) return 0;
  const top = Math.min(...levels.slice(-4, -2));
  const grown = top - Math.min(...levels);
  const low = (level: number | undefined) =>
    level !== undefined && grown > leastCleaned && top - level > cleanedShare * grown;
  if (!low(levels.at(-1))) return 0;
  return low(levels.at(-2)) ? 2 : 1;
}

function judge(state: FoulingTrend, limits: FoulingLimits): Fouling | null {
  const { pointMs } = state;
  let points = likeClean(state, state.warmth, limits.cleanHours);
  const low = fallen(points.levels);
  if (low === 1) return state.fouling;
  if (low === 2) {
    keepLast(state, 2);
    state.fouling = null;
    points = likeClean(state, state.warmth, limits.cleanHours);
  }
  const { levels } = points;
  const { fouling } = state;
  const growth = levels[levels.length - 1];
  const lastMs = pointMs[pointMs.length - 1];
  state.level = growth;
  if (state.leftFrom !== null && growth < state.leftFrom) state.leftFrom = null;
  const outlastsCleaning = state.leftFrom !== null;
  const known = fouling !== null && !Number.isNaN(fouling.dueMs);
  if (growth < (known ? goneShare : 1) * limits.least) return null;
  const found = foulingTrend(points, lastMs, known, limits);
  if (found !== null) return { ...found, outlastsCleaning };
  if (Math.min(growth, levels.at(-2) ?? 0) >= limits.limit) {
    return { atMs: lastMs, growth, outlastsCleaning, ...dueAt(lastMs) };
  }
  // Fouling does not undo itself: once found it stays until it is cleaned, and its date moves on while it rests.
  if (known) return { ...rested(fouling, growth, lastMs, limits), outlastsCleaning };
  return outlastsCleaning ? { atMs: lastMs, growth, outlastsCleaning, ...dueAt(Number.NaN) } : null;
}
