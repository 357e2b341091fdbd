import { startDelay } from "../assess/delays.ts";
import { settle } from "../assess/life.ts";
import { serveBaseline } from "../condition/baseline-service.ts";
import { noteService } from "../detect/service-overdue.ts";
import { openAfter } from "../fleet/services.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { AlarmName } from "../terms/alarms.ts";
import type { Finding } from "../terms/events.ts";
import { noteLayUp } from "./lay-up.ts";
import { endOverdue, recorded } from "./overdue.ts";
import { backToNormal } from "./readings.ts";
import { type RuleState, type UnitState, underService } from "./unit-state.ts";

/** Takes in a service or a planned stop that was recorded, or what was decided of the baseline. */
export function takeService(state: UnitState, record: ServiceRecord, findings: Finding[]): void {
  serveBaseline(state.condition, record);
  if (record.work === "baseline") return;
  for (const mine of record.step === "taken-back" ? [] : state.rules) {
    if (mine.rule.serviced?.(mine.memory, record)) endRule(mine);
  }
  noteService(state.upkeep, record);
  noteLayUp(state, record);
  endOverdue(state, record.atMs);
  state.openServices = openAfter(state.openServices, record);
  const returned = underService(state) ? [] : clearReturned(state);
  const normalSince = (alarm: AlarmName) => returned.find((r) => r.alarm === alarm)?.sinceMs ?? record.atMs;
  settle(state.lives, underService(state), record.atMs, normalSince, findings);
}

function endRule({ delay, life, settings }: RuleState): void {
  Object.assign(delay, startDelay());
  if (life.phase !== "on") return;
  life.phase = "off";
  life.ownPriority = settings.priority;
  life.message = recorded;
}

/** What is back to normal when a service ends is over with it: only its off-delay still ran. */
function clearReturned({ rules: states }: UnitState): { alarm: AlarmName; sinceMs: number }[] {
  const returned: { alarm: AlarmName; sinceMs: number }[] = [];
  for (const { delay, life } of states) {
    if (life.told !== "suppressed" || life.by !== "service" || delay.normalSinceMs === null) continue;
    returned.push({ alarm: life.alarm, sinceMs: delay.normalSinceMs });
    delay.phase = "off";
    delay.normalSinceMs = null;
    life.phase = "off";
    life.message = backToNormal;
  }
  return returned;
}
