import type { Unit } from "../fleet/unit.ts";
import { minute } from "../terms/time.ts";

/** A motor is warm after two to four of its time constants; a baseline may be learned before. */
const warmAfterMs = 60 * minute;
/** Where no window is named. */
const learnForMs = 30 * minute;
const fewestReadings = 20;

/** How far a clean, warm motor stands above the air; plain data. */
export interface CleanRise {
  /** The readings so far: their sum, K, their number, and the first one's time. */
  sumK: number;
  readings: number;
  fromMs: number | null;
  /** Their mean, once they are enough; null before. */
  meanK: number | null;
}

export function startCleanRise(): CleanRise {
  return { sumK: 0, readings: 0, fromMs: null, meanK: null };
}

/**
 * Takes in the rise of one reading of a running motor, K, where it is warm: over the window that the fleet file names
 * for the baseline, else over half an hour. A missing rise (NaN) counts for nothing.
 */
export function learnRise(
  state: CleanRise,
  { baseline: window }: Unit,
  timeMs: number,
  sinceStartMs: number,
  riseK: number,
): void {
  if (state.meanK !== null || !(sinceStartMs >= warmAfterMs) || Number.isNaN(riseK)) return;
  if (window && timeMs < window.fromMs) return;
  const over = window
    ? timeMs >= window.fromMs + window.forMs
    : state.fromMs !== null && timeMs - state.fromMs >= learnForMs && state.readings >= fewestReadings;
  if (!over) {
    state.fromMs ??= timeMs;
    state.sumK += riseK;
    state.readings++;
  } else if (state.readings >= fewestReadings) {
    state.meanK = state.sumK / state.readings;
  }
}
