import type { UnitResponses } from "../assess/response.ts";
import { longer, type UnitState, unitIntervalMs } from "../engine/unit-state.ts";
import { localMinute } from "../fleet/local-clock.ts";
import type { NotJudged } from "./fleet-view.ts";

/** Alarms that stood when their settings changed, until their delays have run under the new ones. */
export function judgedAnew(state: UnitState, responses: UnitResponses, timezone: string): NotJudged[] {
  const intervalMs = unitIntervalMs(state);
  return state.rules.flatMap(({ rule: { alarm }, settings, life }): NotJudged[] => {
    const { anewMs } = responses[alarm] ?? {};
    if (anewMs === undefined || life.phase === "on") return [];
    // The delay runs from the first reading after the change, and is over with the first after its end.
    const untilMs = anewMs + longer(settings.delay, intervalMs) + 2 * intervalMs;
    if ((state.condition.lastTimeMs ?? anewMs) > untilMs) return [];
    const why = `judged anew since ${localMinute(anewMs, timezone)}, its settings changed; it stood until then`;
    return [{ alarm, why, isAnew: true }];
  });
}
