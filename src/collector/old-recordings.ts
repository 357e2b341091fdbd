import { age, day } from "../terms/time.ts";
import type { UnitView } from "./fleet-view.ts";

/** Logs that have gained nothing for so long may be recordings (house choice). */
const oldAfterMs = day;

/**
 * What to do with a fleet of which nothing is new, and that is read as if it were; null where something is, by the
 * units' own deliveries, or where that is not known yet.
 */
export function oldRecordings(units: readonly UnitView[], nowMs: number): string | null {
  const watched = units.filter(({ state, problem }) => state !== "laid up" && problem === null);
  if (watched.some(({ state, catchingUp }) => state !== "no readings" || catchingUp)) return null;
  return recordingsHint(Math.max(...watched.map(({ lastReadingMs }) => lastReadingMs ?? -Infinity)), nowMs);
}

/** The same of logs by their newest reading, ms; `replay`: what plays them. */
export function recordingsHint(
  newestMs: number,
  nowMs: number,
  replay = "tarnwatch replay FLEET",
): string | null {
  const ageMs = nowMs - newestMs;
  return Number.isFinite(ageMs) && ageMs > oldAfterMs
    ? `newest reading ${age(ageMs)} old; to play recordings: ${replay}`
    : null;
}
