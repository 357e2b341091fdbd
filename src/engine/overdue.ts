import { settle } from "../assess/life.ts";
import { dueWorks, overdueEvidence, sayOverdue } from "../detect/service-overdue.ts";
import type { Finding } from "../terms/events.ts";
import { quietUntilMs } from "./lay-up.ts";
import { type UnitState, underService } from "./unit-state.ts";

/** The moment from which a service of this unit is overdue, ms; +∞ where that has been told or no reading has come yet. */
export function unitOverdueFromMs(state: UnitState): number {
  const { upkeep, unit, overdue, nextInSeason } = state;
  if (overdue.phase === "on") return Number.POSITIVE_INFINITY;
  const due = dueWorks(unit, upkeep, nextInSeason).map(({ dueMs }) => dueMs);
  const dueMs = Math.max(upkeep.firstMs ?? Number.POSITIVE_INFINITY, Math.min(...due));
  return dueMs < quietUntilMs(state) ? nextInSeason(quietUntilMs(state)) : dueMs;
}

/** Which services of this unit are overdue at a time, in words. */
export function unitOverdueWords(state: UnitState, timeMs: number): string {
  return sayOverdue(overdueAt(state, timeMs));
}

function overdueAt({ unit, upkeep, nextInSeason }: UnitState, timeMs: number) {
  return dueWorks(unit, upkeep, nextInSeason).filter(({ dueMs }) => dueMs <= timeMs);
}

/** Tells what services are overdue by a time that has passed, ms. */
export function noticeOverdue(state: UnitState, timeMs: number, findings: Finding[]): void {
  const overdueMs = unitOverdueFromMs(state);
  if (timeMs < overdueMs) return;
  const works = overdueAt(state, overdueMs);
  const { overdue } = state;
  overdue.phase = "on";
  overdue.sinceMs = Math.min(...works.map(({ dueMs }) => dueMs));
  overdue.message = sayOverdue(works);
  overdue.evidence = overdueEvidence(works, overdueMs);
  settle(state.lives, underService(state), overdueMs, () => overdueMs, findings);
}

/** What is said where a record of the work ends an alarm. */
export const recorded = "The work is done and on record.";

/** Ends the alarm where no service is overdue any more. */
export function endOverdue(state: UnitState, timeMs: number): void {
  const { overdue } = state;
  if (overdue.phase !== "on" || overdueAt(state, timeMs).length > 0) return;
  overdue.phase = "off";
  overdue.message = recorded;
  overdue.evidence = {};
}
