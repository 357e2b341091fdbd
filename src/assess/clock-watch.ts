import { type ClockFault, type ClockSettings, clockEvidence, sayClock } from "../detect/clock-fault.ts";
import type { AlarmLife } from "./life.ts";

/** What is remembered of a unit's times to tell whether its logger's clock is wrong. Plain data. */
export interface ClockWatch {
  /** What is told of, or pending; null where all is well. */
  fault: ClockFault | null;
  /** Readings in a row whose times had been before: after which reading they came, the first and the newest. */
  back: { readonly afterMs: number; readonly firstMs: number; newestMs: number; rows: number } | null;
  /** Rows in a row that were refused for being too far ahead. */
  refused: number;
  /** Arrivals in a row that were old by about the same. */
  lag: { readonly sinceMs: number; readonly byMs: number; arrivals: number } | null;
  /** When readings last came, judged or not: by the collector's clock, else as far as their own tell. */
  seenMs: number;
  /** First reading that came in order again. */
  normalSinceMs: number | null;
  /** Spans without a reading, the newest last: what comes late for them was delivered late. */
  gaps: readonly (readonly [fromMs: number, toMs: number])[];
}

export function startClockWatch(): ClockWatch {
  return {
    fault: null,
    back: null,
    refused: 0,
    lag: null,
    seenMs: Number.NEGATIVE_INFINITY,
    normalSinceMs: null,
    gaps: [],
  };
}

/** When what the watch has done to its alarm is to be settled. */
export interface ClockChange {
  readonly timeMs: number;
  /** First reading of the normal stretch, where it is over. */
  readonly normalSinceMs: number;
}

/** So many readings in a row are no stray rows (house choice). */
const fewestRows = 3;
const fewestArrivals = 5;
const gapsKept = 16;

/** Remembers a span without readings. */
export function noteGap(watch: ClockWatch, fromMs: number, toMs: number): void {
  watch.gaps = [...watch.gaps.slice(1 - gapsKept), [fromMs, toMs]];
}

/**
 * Takes in a reading whose time had been before; it came after the one of `afterMs` (NaN: it only carries other
 * channels). `onMs` is the on-delay. How long that goes on is told by the readings' own pace.
 */
export function takeLateReading(
  watch: ClockWatch,
  life: AlarmLife,
  settings: ClockSettings,
  onMs: number,
  afterMs: number,
  timeMs: number,
): ClockChange | null {
  if (Number.isNaN(afterMs)) return null;
  if (watch.gaps.some(([fromMs, toMs]) => timeMs > fromMs && timeMs < toMs)) return null;
  const { back } = watch;
  if (back === null || back.afterMs !== afterMs || timeMs <= back.newestMs) {
    if (afterMs - timeMs < settings.back) return null;
    watch.back = { afterMs, firstMs: timeMs, newestMs: timeMs, rows: 1 };
    suspect(watch, life, "back");
    return null;
  }
  back.newestMs = timeMs;
  back.rows++;
  const wentOnMs = timeMs - back.firstMs;
  watch.seenMs = Math.max(watch.seenMs, afterMs + wentOnMs);
  if (life.phase === "on" || back.rows < fewestRows || wentOnMs < onMs) return null;
  // The first reading after the step would have come an interval later.
  const byMs = afterMs - back.firstMs + wentOnMs / (back.rows - 1);
  return raise(watch, life, settings, byMs, afterMs, afterMs + wentOnMs);
}

/** Takes in that readings came in order from `timeMs` on. True where it may be over after the off-delay. */
export function takeOrdered(watch: ClockWatch, life: AlarmLife, timeMs: number): boolean {
  watch.refused = 0;
  if (watch.back !== null && timeMs > watch.back.afterMs) watch.back = null;
  if (watch.back !== null || (watch.fault !== "back" && watch.fault !== "refused")) return false;
  if (life.phase === "pending") calmDown(watch, life);
  else watch.normalSinceMs ??= timeMs;
  return life.phase === "on";
}

/** Readings have come in order for the off-delay. */
export function backInOrder(watch: ClockWatch, life: AlarmLife, timeMs: number): ClockChange {
  const normalSinceMs = watch.normalSinceMs ?? timeMs;
  calmDown(watch, life);
  return { timeMs: Math.max(timeMs, life.raisedMs), normalSinceMs };
}

/** A row was refused since its time is too far ahead of the clock. */
export function takeRefused(
  watch: ClockWatch,
  life: AlarmLife,
  settings: ClockSettings,
  clockMs: number,
  timeMs: number,
): ClockChange | null {
  watch.refused++;
  watch.seenMs = Math.max(watch.seenMs, clockMs);
  suspect(watch, life, "refused");
  if (life.phase === "on" || watch.refused < fewestRows) return null;
  return raise(watch, life, settings, timeMs - clockMs, clockMs, clockMs);
}

/**
 * Readings have just come, at `clockMs`, the newest of `newestMs`; `usualMs` is how old it may be where they are
 * delivered now and then.
 */
export function takeArrival(
  watch: ClockWatch,
  life: AlarmLife,
  settings: ClockSettings,
  usualMs: number,
  clockMs: number,
  newestMs: number,
): ClockChange | null {
  watch.seenMs = Math.max(watch.seenMs, clockMs);
  const byMs = clockMs - newestMs;
  if (byMs <= Math.max(settings.lag, usualMs)) {
    watch.lag = null;
    if (watch.fault !== "lag") return null;
    calmDown(watch, life);
    return { timeMs: clockMs, normalSinceMs: clockMs };
  }
  const { lag } = watch;
  // A backlog that is sent grows younger; a clock stays behind by the same.
  if (lag === null || Math.abs(byMs - lag.byMs) > Math.max(settings.back / 2, usualMs)) {
    watch.lag = { sinceMs: clockMs, byMs, arrivals: 1 };
    suspect(watch, life, "lag");
    return null;
  }
  lag.arrivals++;
  if (life.phase === "on" || lag.arrivals < fewestArrivals || clockMs - lag.sinceMs < settings.lag_for)
    return null;
  suspect(watch, life, "lag");
  return raise(watch, life, settings, byMs, lag.sinceMs, clockMs);
}

/**
 * Looks at the clock: a newest reading ahead of it; and where nothing at all has come for `silentMs`, nothing can
 * be said of the logger's clock any more.
 */
export function lookAtWatch(
  watch: ClockWatch,
  life: AlarmLife,
  settings: ClockSettings,
  silentMs: number,
  clockMs: number,
  newestMs: number,
): ClockChange | null {
  const aheadMs = newestMs - clockMs;
  if (aheadMs >= settings.ahead && life.phase !== "on") {
    suspect(watch, life, "ahead");
    return raise(watch, life, settings, aheadMs, clockMs, clockMs);
  }
  if (watch.fault === null) return null;
  const silentFromMs = Math.max(watch.seenMs, newestMs) + silentMs;
  const over = watch.fault === "ahead" ? aheadMs < settings.ahead / 2 : clockMs >= silentFromMs;
  if (!over) return null;
  const normalSinceMs = watch.fault === "ahead" ? clockMs : silentFromMs;
  const timeMs = life.phase === "on" ? Math.max(normalSinceMs, life.raisedMs) : normalSinceMs;
  calmDown(watch, life);
  watch.back = null;
  watch.lag = null;
  return { timeMs, normalSinceMs };
}

function suspect(watch: ClockWatch, life: AlarmLife, fault: ClockFault): void {
  watch.normalSinceMs = null;
  if (life.phase === "on") return;
  watch.fault = fault;
  life.phase = "pending";
}

function calmDown(watch: ClockWatch, life: AlarmLife): void {
  watch.fault = null;
  watch.normalSinceMs = null;
  if (life.phase === "on") {
    life.message = "The times are in order again.";
    life.evidence = {};
  }
  life.phase = "off";
}

function raise(
  watch: ClockWatch,
  life: AlarmLife,
  settings: ClockSettings,
  byMs: number,
  sinceMs: number,
  timeMs: number,
): ClockChange | null {
  if (watch.fault === null) return null;
  life.phase = "on";
  life.sinceMs = sinceMs;
  life.message = sayClock(watch.fault, byMs);
  life.evidence = clockEvidence(watch.fault, byMs, settings);
  return { timeMs, normalSinceMs: timeMs };
}
