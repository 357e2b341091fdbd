import { day, second } from "../terms/time.ts";
import type { FaultKind } from "./fault-kinds.ts";

/** A fault that somebody asked for by name. */
export interface FaultWish {
  readonly kind: FaultKind;
  /** Default: by chance within what is usual for the fault. */
  readonly severity?: number;
  /** Time from the start of the logs, ms; default by chance. */
  readonly afterMs?: number;
}

export interface Invention {
  readonly units: number;
  readonly days: number;
  readonly intervalMs: number;
  readonly seed: number;
  readonly fromMs: number;
  /** `all`: every kind, turn by turn; none: a clean fleet. */
  readonly faults: "all" | readonly FaultWish[];
}

/** Nothing goes wrong in a fleet's first day, so that each unit can learn its baseline. */
export const cleanMs = day;

/** The end of the logs: the time of the last reading is at or before it. */
export function endMs({ fromMs, days }: Invention): number {
  return fromMs + days * day;
}

/** When a unit's logger reads first: loggers do not read at the same moment. */
export function firstReadingMs({ fromMs, intervalMs }: Invention, place: number): number {
  return fromMs + ((place * 7 * second) % intervalMs);
}
