import type { Delivery, ToldAlarm } from "../store/deliveries.ts";
import { mustWait } from "./hours.ts";
import { returnMessage } from "./make.ts";
import type { Memory, Noted } from "./memory.ts";
import type { Plan } from "./plan.ts";
import type { Stand } from "./standing.ts";

type Returns = Pick<Noted, "goneMs" | "closed"> & { readonly made: readonly Delivery[] };

interface Gone {
  readonly told: ToldAlarm;
  readonly goneMs: number;
  /** Those that were told of it. */
  readonly deliveries: readonly Delivery[];
}

/**
 * Which alarms that people were told of are over, and the messages that say so, those of one way together. An
 * alarm that is raised again within the grouping time has not returned.
 */
export function decideReturns(memory: Memory, stand: Stand, plan: Plan, nowMs: number): Returns {
  const goneMs = new Map<string, number>();
  const closed: string[] = [];
  const ready: Gone[] = [];
  for (const id of memory.open) {
    const all = memory.byAlarm.get(id) ?? [];
    const told = all[0]?.alarms.find((alarm) => alarm.id === id);
    const unit = told && stand.units.get(told.unit);
    if (told === undefined || unit === undefined || unit.ids.has(id)) continue;
    const sinceMs = memory.goneMs.get(id) ?? nowMs;
    goneMs.set(id, sinceMs);
    const isAgain = unit.alarms.has(told.alarm);
    const deliveries = all.filter(({ outcome, kind }) => outcome === "delivered" && kind !== "returned");
    const isTold = plan.tellReturn && deliveries.length > 0;
    if (!isTold || isAgain) {
      // Suppressed and set aside alarms are there under their name too: what they return from is not told.
      closed.push(id);
    } else if (!mustWait(told.priority, plan.quietHours, plan.localOf(nowMs))) {
      ready.push({ told, goneMs: sinceMs, deliveries });
    }
  }
  if (!ready.some((gone) => nowMs - gone.goneMs >= plan.groupWithinMs)) return { made: [], goneMs, closed };
  const byWay = Map.groupBy(
    ready.flatMap((gone) =>
      [...new Set(gone.deliveries.map(({ way }) => way))].map((way) => ({ way, gone })),
    ),
    ({ way }) => way,
  );
  const made = [...byWay].map(([way, found]) =>
    returnMessage(
      found.map(({ gone }) => ({
        ...gone.told,
        goneMs: gone.goneMs,
        atMs: gone.deliveries[0]?.atMs ?? nowMs,
      })),
      way,
      plan,
      nowMs,
    ),
  );
  return { made, goneMs, closed };
}
