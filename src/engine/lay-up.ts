import { alwaysTold } from "../assess/causes.ts";
import { startDelay } from "../assess/delays.ts";
import { operating } from "../condition/features.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { hour } from "../terms/time.ts";
import type { UnitState } from "./unit-state.ts";

/** A lay-up on record. Plain data. */
export interface LayUp {
  /** When the unit was laid up, ms; +∞ where that is not on record, or it was started since. */
  sinceMs: number;
  /** No silence from before is asked about, ms: it was laid up then. */
  quietMs: number;
}

export function startLayUp(): LayUp {
  return { sinceMs: Number.POSITIVE_INFINITY, quietMs: Number.NEGATIVE_INFINITY };
}

/** Whether a unit is laid up by its record: until its season is over, from which on the season says so. */
export function isOnRecord(
  { layUp, nextLaidUp }: Pick<UnitState, "layUp" | "nextLaidUp">,
  timeMs: number,
): boolean {
  return timeMs >= layUp.sinceMs && timeMs < nextLaidUp(layUp.sinceMs);
}

/** From when on a unit that fell silent may be asked about, as far as its lay-up tells, ms. */
export function quietUntilMs({ layUp, nextLaidUp }: UnitState): number {
  const onRecordMs = Number.isFinite(layUp.sinceMs) ? nextLaidUp(layUp.sinceMs) : Number.NEGATIVE_INFINITY;
  return Math.max(layUp.quietMs, onRecordMs);
}

/** Takes in that a unit was laid up, which ends what is asked about it, or that it was started up. */
export function noteLayUp(state: UnitState, { work, step, atMs }: ServiceRecord): void {
  const isOver = step === "done" || step === "end";
  if (work === "start-up" && (isOver || step === "begin") && isOnRecord(state, atMs))
    Object.assign(state.layUp, { sinceMs: Number.POSITIVE_INFINITY, quietMs: atMs });
  if (work !== "lay-up" || !isOver) return;
  state.layUp.sinceMs = atMs;
  rest(state);
}

/** Ends what is asked of a unit that is laid up, all but what is told of ozone and currents whatever else is. */
export function rest(state: UnitState): void {
  for (const { delay, life } of state.rules) {
    if (alwaysTold(life.alarm)) continue;
    Object.assign(delay, startDelay());
    endLife(life);
  }
  endLife(state.stale);
  endLife(state.overdue);
}

function endLife(life: UnitState["stale"]): void {
  if (life.phase === "on") life.message = "The unit is laid up.";
  life.phase = "off";
}

/** Who lays a unit up has stopped it; one that has run on for so long was not laid up. */
const runsOnMs = hour;

/**
 * A unit that was started since it was laid up is laid up no more, whether or not somebody put that on record; nor is
 * one that has run on.
 */
export function noticeStart({ layUp, condition }: UnitState): void {
  const { state, stateSinceMs, lastTimeMs } = condition;
  if (state !== operating.running && state !== operating.priming) return;
  if (stateSinceMs < layUp.sinceMs && (lastTimeMs ?? 0) < layUp.sinceMs + runsOnMs) return;
  Object.assign(layUp, { sinceMs: Number.POSITIVE_INFINITY, quietMs: Math.max(stateSinceMs, layUp.sinceMs) });
}
