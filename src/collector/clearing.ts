import type { AlarmLife } from "../assess/life.ts";
import { longer, type UnitState, unitIntervalMs, unitStaleFromMs } from "../engine/unit-state.ts";
import { second } from "../terms/time.ts";
import type { AlarmView } from "./fleet-view.ts";

/** What wavers is not told as gone each time (house choice). */
const steadyMs = 30 * second;

/** Of an alarm that stands although its condition is gone: since when, and when its off-delay is over. */
export function clearingOf(
  life: AlarmLife,
  state: UnitState,
  clockMs: number,
): AlarmView["clearing"] | undefined {
  const rule = state.rules.find((candidate) => candidate.life === life);
  const sinceMs = rule?.delay.normalSinceMs ?? null;
  if (rule === undefined || sinceMs === null || life.phase !== "on") return undefined;
  // Silence proves nothing: the normal stretch is counted anew after it.
  if (clockMs - sinceMs < steadyMs || clockMs >= unitStaleFromMs(state)) return undefined;
  return { sinceMs, atMs: sinceMs + longer(rule.settings.off_delay, unitIntervalMs(state)) };
}
