import type { Database } from "../store/sqlite.ts";
import { levels, summariesOf } from "../store/summaries.ts";
import { minute } from "../terms/time.ts";
import { type Points, takeSpan } from "./past-points.ts";
import { firstMinuteMs, type Recent } from "./recent.ts";
import type { Summing } from "./summing.ts";

/** Where a unit's summed up past is. */
export interface PastSources {
  readonly unit: string;
  readonly recent: Recent;
  /** Absent where nothing is kept. */
  readonly summing?: Summing;
  readonly db?: Database;
}

/** A unit's extremes over consecutive spans of one length, by signal; NaN where nothing was read. */
export interface Level {
  readonly stepMs: number;
  readonly fromMs: number;
  readonly slots: number;
  readonly low: (Float32Array | undefined)[];
  readonly high: (Float32Array | undefined)[];
  /** What is known only by coarser spans ends here, and this level begins. */
  readonly sinceMs: number;
}

/** What is known of `fromMs…toMs` by the minute, ten minutes and hour, as far back as each goes; the finest first. */
export function pastLevels(sources: PastSources, fromMs: number, toMs: number): Level[] {
  return levels.map((level, place) => levelOf(sources, level, place, fromMs, toMs));
}

/** Since when anything is summed up, ms; null where nothing is. */
export function summedSinceMs({ unit, recent, summing, db }: PastSources): number | null {
  const firstMs = Math.min(
    firstMinuteMs(recent),
    ...(summing?.full.map(([first]) => first?.fromMs ?? Number.POSITIVE_INFINITY) ?? []),
    ...levels.map(({ stepMs }) => keptFromMs(db, unit, stepMs)),
  );
  return Number.isFinite(firstMs) ? firstMs : null;
}

function keptFromMs(db: Database | undefined, unit: string, stepMs: number): number {
  const first = db
    ?.prepare("SELECT MIN(from_ms) AS ms FROM summaries WHERE unit = ? AND step_ms = ?")
    .get(unit, stepMs)?.ms;
  return typeof first === "number" ? first : Number.POSITIVE_INFINITY;
}

function levelOf(
  { unit, recent, summing, db }: PastSources,
  { stepMs }: (typeof levels)[number],
  place: number,
  fromMs: number,
  toMs: number,
): Level {
  const unkept = summing === undefined ? [] : [...summing.full[place], ...spanOf(summing.open[place])];
  const ringMs = stepMs === minute ? firstMinuteMs(recent) : Number.POSITIVE_INFINITY;
  const knownMs = Math.min(
    keptFromMs(db, unit, stepMs),
    ringMs,
    unkept[0]?.fromMs ?? Number.POSITIVE_INFINITY,
  );
  const beginsMs = Math.floor(Math.max(fromMs, Math.min(knownMs, toMs)) / stepMs) * stepMs;
  const slots = Math.max(0, Math.ceil((toMs - beginsMs) / stepMs));
  const level: Level = { stepMs, fromMs: beginsMs, slots, low: [], high: [], sinceMs: toMs };
  if (db !== undefined) {
    for (const { signal, min, max } of summariesOf(db, unit, stepMs, beginsMs, toMs).value?.signals ?? []) {
      level.low[signal] = min;
      level.high[signal] = max;
    }
  }
  for (const span of unkept) {
    const slot = (span.fromMs - beginsMs) / stepMs;
    for (const [signal, count] of span.count.entries())
      if (count > 0) widen(level, signal, slot, span.min[signal], span.max[signal]);
  }
  if (stepMs === minute) layRecent(level, recent);
  return { ...level, sinceMs: sinceOf(level) };
}

function spanOf<T>(open: T | null): T[] {
  return open === null ? [] : [open];
}

function layRecent(level: Level, recent: Recent): void {
  for (let slot = 0; slot < recent.minuteOf.length; slot++) {
    const at = (recent.minuteOf[slot] * minute - level.fromMs) / level.stepMs;
    if (at < 0 || at >= level.slots) continue;
    for (const [signal, lows] of recent.low.entries()) {
      const highs = recent.high[signal];
      if (lows && highs && !Number.isNaN(lows[slot])) widen(level, signal, at, lows[slot], highs[slot]);
    }
  }
}

function widen({ low, high, slots }: Level, signal: number, slot: number, least: number, most: number): void {
  if (slot < 0 || slot >= slots) return;
  low[signal] ??= new Float32Array(slots).fill(Number.NaN);
  high[signal] ??= new Float32Array(slots).fill(Number.NaN);
  const lows = low[signal];
  const highs = high[signal];
  if (!(least >= lows[slot])) lows[slot] = least;
  if (!(most <= highs[slot])) highs[slot] = most;
}

function sinceOf({ low, slots, fromMs, stepMs }: Level): number {
  for (let slot = 0; slot < slots; slot++)
    if (low.some((column) => column !== undefined && !Number.isNaN(column[slot])))
      return fromMs + slot * stepMs;
  return fromMs + slots * stepMs;
}

/** One span of a level, from `fromMs` to `toMs`. */
export type TakeSlot = (fromMs: number, toMs: number, slot: number) => void;

/** Goes over the spans before `endMs` of which the finer levels do not know, in order of time. */
export function overSlots(level: Level, finer: readonly Level[], endMs: number, take: TakeSlot): void {
  const { fromMs, stepMs, slots, sinceMs } = level;
  const untilMs = Math.min(endMs, ...finer.map((one) => one.sinceMs));
  for (let slot = 0; slot < slots; slot++) {
    const spanMs = fromMs + slot * stepMs;
    if (spanMs >= untilMs) break;
    // The first span of all: readings began within it, where the finer level begins.
    if (finer.length > 0 && spanMs === sinceMs && spanMs + stepMs > untilMs) continue;
    take(spanMs, Math.min(spanMs + stepMs, untilMs), slot);
  }
}

/** Takes each time before `endMs` in from the finest level that knows it. */
export function drawLevels(into: Points, finestFirst: readonly Level[], endMs: number): void {
  for (const [place, level] of finestFirst.entries()) {
    for (const [signal, low] of level.low.entries()) {
      const high = level.high[signal];
      if (low === undefined || high === undefined) continue;
      overSlots(level, finestFirst.slice(0, place), endMs, (fromMs, toMs, slot) =>
        takeSpan(into, signal, fromMs, toMs, level.stepMs, low[slot], high[slot]),
      );
    }
  }
}
