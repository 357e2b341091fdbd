import {
  type ClockChange,
  lookAtWatch,
  takeArrival,
  takeLateReading,
  takeOrdered,
  takeRefused,
} from "../assess/clock-watch.ts";
import { settle } from "../assess/life.ts";
import { sayStale } from "../detect/readings-stale.ts";
import type { LateTimes, ReadingBatch } from "../terms/batch.ts";
import type { Finding } from "../terms/events.ts";
import { fourDigits } from "../terms/number.ts";
import { rest } from "./lay-up.ts";
import {
  longer,
  type UnitState,
  underService,
  unitIntervalMs,
  unitStaleAfterMs,
  unitStaleFromMs,
  unitStaleUntilMs,
} from "./unit-state.ts";

/** The row at which readings have come in order for long enough after the clock stepped back; else all rows. */
export function backInOrderAt(
  { clock: { watch, life, settings } }: UnitState,
  { rows, timeMs }: ReadingBatch,
): number {
  if (watch.fault === null) return rows;
  const afterMs = watch.back?.afterMs ?? Number.NEGATIVE_INFINITY;
  let row = 0;
  while (row < rows && timeMs[row] <= afterMs) row++;
  if (row === rows || !takeOrdered(watch, life, timeMs[row])) return rows;
  const dueMs = (watch.normalSinceMs ?? 0) + settings.off_delay;
  while (row < rows && timeMs[row] < dueMs) row++;
  return row;
}

/** Takes in readings whose times had been before. */
export function takeLate(state: UnitState, { timeMs, afterMs }: LateTimes, findings: Finding[]): void {
  const { watch, life, settings } = state.clock;
  const onMs = longer(settings.delay, unitIntervalMs(state));
  for (let row = 0; row < timeMs.length; row++) {
    settleClock(state, takeLateReading(watch, life, settings, onMs, afterMs[row], timeMs[row]), findings);
  }
}

/** Readings have come by the collector's clock, ms: the logger's clock is held against it. */
export function noticeArrival(state: UnitState, clockMs: number, findings: Finding[]): void {
  const { watch, life, settings } = state.clock;
  const last = state.condition.lastTimeMs;
  if (last === null) return;
  settleClock(state, takeArrival(watch, life, settings, unitStaleAfterMs(state), clockMs, last), findings);
}

/** A row was refused for being too far ahead of the collector's clock, ms. */
export function noticeRefused(
  state: UnitState,
  clockMs: number,
  readingMs: number,
  findings: Finding[],
): void {
  const { watch, life, settings } = state.clock;
  settleClock(state, takeRefused(watch, life, settings, clockMs, readingMs), findings);
}

/** Tells what the watch over the logger's clock has changed. */
export function settleClock(state: UnitState, change: ClockChange | null, findings: Finding[]): void {
  if (change === null) return;
  settle(state.lives, underService(state), change.timeMs, () => change.normalSinceMs, findings);
}

/** A look at the collector's clock, ms: what a silent unit must tell. */
export function lookAtClock(state: UnitState, timeMs: number, findings: Finding[]): void {
  const { clock } = state;
  const last = state.condition.lastTimeMs;
  if (last !== null) {
    const silentMs = unitStaleAfterMs(state);
    settleClock(
      state,
      lookAtWatch(clock.watch, clock.life, clock.settings, silentMs, timeMs, last),
      findings,
    );
  }
  noticeSilence(state, timeMs, findings);
}

function noticeSilence(state: UnitState, timeMs: number, findings: Finding[]): void {
  const last = state.condition.lastTimeMs;
  const staleMs = unitStaleFromMs(state);
  if (last === null || timeMs < staleMs) return;
  if (state.stale.phase === "on") {
    endOfSeason(state, timeMs, findings);
    return;
  }
  const limit = unitStaleAfterMs(state);
  state.stale.phase = "on";
  state.stale.sinceMs = last;
  state.stale.message = sayStale(state.unit, limit);
  state.stale.evidence = {
    last_reading_age: { value: fourDigits((staleMs - last) / 1000), limit: limit / 1000, unit: "s" },
  };
  settle(state.lives, underService(state), staleMs, () => last, findings);
}

/** A unit that fell silent before its season was over was switched off for the winter, as far as anybody can tell. */
function endOfSeason(state: UnitState, timeMs: number, findings: Finding[]): void {
  const endMs = unitStaleUntilMs(state);
  if (timeMs < endMs) return;
  state.layUp.quietMs = endMs;
  rest(state);
  settle(state.lives, underService(state), endMs, () => endMs, findings);
}

/** Readings come again, the first of `timeMs`. */
export function endSilence(state: UnitState, timeMs: number, findings: Finding[]): void {
  if (state.stale.phase !== "on") return;
  state.stale.phase = "off";
  state.stale.message = "Readings come again.";
  const silence = state.stale.evidence.last_reading_age;
  const last = state.condition.lastTimeMs ?? timeMs;
  state.stale.evidence = { last_reading_age: { ...silence, value: fourDigits((timeMs - last) / 1000) } };
  // A reading that was delivered late is older than the moment at which its absence was told.
  const toldMs = Math.max(timeMs, state.stale.raisedMs);
  settle(state.lives, underService(state), toldMs, () => timeMs, findings);
}
