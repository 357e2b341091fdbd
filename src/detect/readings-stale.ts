import { z } from "zod";
import { duration } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import type { Priority } from "../terms/alarms.ts";
import { second, span } from "../terms/time.ts";

/** Settings of the one rule that looks at a clock and not at a column. */
export const staleSettings = z.strictObject({
  intervals: z.number().min(1).default(5),
  deliveries: z.number().min(1).default(2),
  at_least: duration().default(60 * second),
  priority: z.enum(["high", "medium", "low"]).optional(),
});

export type StaleSettings = z.output<typeof staleSettings>;

/** Silence after which a unit's readings are stale, ms: five sample intervals, two deliveries or 1 min. */
export function staleAfterMs(unit: Unit, intervalMs: number, settings: StaleSettings): number {
  const delivery = unit.arrivesEveryMs ?? intervalMs;
  return Math.max(settings.intervals * intervalMs, settings.deliveries * delivery, settings.at_least);
}

/** Where the logger shares the pump's outlet, silence may mean no power: the priority of `not-running`. */
export function stalePriority(unit: Unit, settings: StaleSettings): Priority {
  return settings.priority ?? (unit.loggerPower === "same outlet" ? "high" : "medium");
}

/** What is said of a silence that is over. */
export function sayWasStale(silentMs: number): string {
  return `No reading came for ${span(silentMs)}; since then readings come again.`;
}

export function sayStale(unit: Unit, limitMs: number): string {
  const power =
    unit.loggerPower === "same outlet"
      ? " The logger shares the pump's outlet: there may be no power."
      : " What the pump does now cannot be seen.";
  return `No reading for more than ${span(limitMs)}.${power}`;
}
