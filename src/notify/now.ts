import type { Delivery } from "../store/deliveries.ts";
import { comparePriority } from "../terms/alarms.ts";
import type { Memory } from "./memory.ts";
import type { Plan } from "./plan.ts";
import type { Stand, Standing } from "./standing.ts";

/** What one look at the fleet decides by. */
export interface Now {
  readonly memory: Memory;
  readonly plan: Plan;
  readonly nowMs: number;
  readonly seenMs: ReadonlyMap<string, number>;
  /** Made by this look so far. */
  readonly made: Delivery[];
  readonly mute: Stand["mute"];
}

/** The deliveries by which an alarm was told as urgently as it is now, by any line. */
export function tellings({ memory, made }: Now, { id, sameAs = id, priority }: Standing): Delivery[] {
  const known = [...new Set([id, sameAs])].flatMap((name) => memory.byAlarm.get(name) ?? []);
  const fresh = made.filter(({ alarms }) => alarms.some((told) => told.id === id || told.id === sameAs));
  return [...known, ...fresh].filter(
    ({ kind, outcome, alarms }) =>
      kind !== "returned" &&
      outcome !== "withdrawn" &&
      alarms.some(
        (told) => (told.id === id || told.id === sameAs) && comparePriority(told.priority, priority) <= 0,
      ),
  );
}
