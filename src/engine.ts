import { lookAtClock, noticeArrival, noticeRefused, takeLate } from "./engine/clock.ts";
import { noticeOverdue } from "./engine/overdue.ts";
import { takeReadings } from "./engine/readings.ts";
import { takeService } from "./engine/service.ts";
import type { UnitState } from "./engine/unit-state.ts";
import type { ServiceRecord } from "./fleet/unit.ts";
import type { LateTimes, ReadingBatch } from "./terms/batch.ts";
import type { Finding } from "./terms/events.ts";

export { isOnRecord } from "./engine/lay-up.ts";
export { unitOverdueFromMs, unitOverdueWords } from "./engine/overdue.ts";
export {
  startUnit,
  type UnitState,
  unitIntervalMs,
  unitStaleAfterMs,
  unitStaleFromMs,
  unitStaleUntilMs,
} from "./engine/unit-state.ts";

export type Input =
  | { readonly kind: "readings"; readonly batch: ReadingBatch }
  /** Readings whose times had been before, in the order in which they came after the readings so far. */
  | { readonly kind: "late"; readonly rows: LateTimes }
  /** Readings have just come, while their log is followed: the collector's clock. */
  | { readonly kind: "arrived"; readonly timeMs: number }
  /** A row was refused, its time too far ahead of the collector's clock, `timeMs`. */
  | { readonly kind: "refused"; readonly timeMs: number; readonly readingMs: number }
  /** What a silent unit must tell. */
  | { readonly kind: "clock"; readonly timeMs: number }
  /** A time that has passed, by a clock or by readings: what services are overdue by it. */
  | { readonly kind: "due"; readonly timeMs: number }
  | { readonly kind: "service"; readonly record: ServiceRecord };

/** Takes in one input and returns what changed, in the order of telling. */
export function step(state: UnitState, input: Input): Finding[] {
  const findings: Finding[] = [];
  if (input.kind === "readings") takeReadings(state, input.batch, findings);
  else if (input.kind === "clock") lookAtClock(state, input.timeMs, findings);
  else if (input.kind === "due") noticeOverdue(state, input.timeMs, findings);
  else if (input.kind === "late") takeLate(state, input.rows, findings);
  else if (input.kind === "arrived") noticeArrival(state, input.timeMs, findings);
  else if (input.kind === "refused") noticeRefused(state, input.timeMs, input.readingMs, findings);
  else takeService(state, input.record, findings);
  return findings;
}
