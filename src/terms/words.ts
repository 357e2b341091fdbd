import type { AlarmName } from "./alarms.ts";
import { day } from "./time.ts";

/** What a person can say of an alarm (ANSI/ISA-18.2, IEC 62682). */
export const wordActions = [
  "acknowledge",
  "shelve",
  "unshelve",
  "out-of-service",
  "return-to-service",
  "note",
] as const;

export type WordAction = (typeof wordActions)[number];

/** A shelving has its end, and a near one: what is to be off for longer is out of service (house choice). */
export const longestShelvingMs = 7 * day;

/** What a person says of a unit's alarm, or of all its alarms. */
export interface Word {
  /** A UUID, given where the word is said: said again, it is the same word. */
  readonly id: string;
  readonly atMs: number;
  readonly unit: string;
  readonly alarm: AlarmName | "all";
  readonly action: WordAction;
  readonly by: string;
  /** Until when an alarm is shelved. */
  readonly untilMs?: number;
  readonly note?: string;
  /** Of an acknowledgement: which raising of the alarm the person saw, ms. */
  readonly raisedMs?: number;
}

/** A word in its place: rows rise in the order in which words were stored, whoever stored them. */
export interface StoredWord extends Word {
  readonly row: number;
}
