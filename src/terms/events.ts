import type { AlarmName, Priority } from "./alarms.ts";

export type EventKind =
  | "raised"
  | "cleared"
  | "priority-changed"
  | "suppressed"
  | "unsuppressed"
  | "acknowledged"
  | "shelved"
  | "unshelved"
  | "out-of-service"
  | "returned-to-service"
  | "noted"
  | "settings-changed";

/** One number that decided an alarm, rounded to four significant digits, with what it was held against. */
export interface EvidenceItem {
  readonly value: number | string;
  readonly unit: string;
  readonly baseline?: number;
  readonly limit?: number;
}
export type Evidence = Readonly<Record<string, EvidenceItem>>;

/** A change of one alarm's condition, before it has its place in the unit's sequence. */
export interface Finding {
  readonly timeMs: number;
  readonly alarm: AlarmName;
  readonly event: EventKind;
  readonly priority: Priority;
  readonly sinceMs: number;
  /** The alarm (or `service`) that suppresses this one; with `suppressed` only. */
  readonly by?: AlarmName | "service";
  readonly message: string;
  readonly evidence: Evidence;
}

/** A finding as it is written: `seq` counts a unit's events from 1. */
export interface AlarmEvent extends Finding {
  readonly unit: string;
  readonly seq: number;
}
