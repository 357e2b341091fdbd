import type { AlarmName } from "../terms/alarms.ts";
import { attemptOn, type Outcome } from "./outcome.ts";
import type { Database } from "./sqlite.ts";

export type WordAction =
  | "acknowledge"
  | "shelve"
  | "unshelve"
  | "out-of-service"
  | "return-to-service"
  | "note";

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
}

/** A word in its place: rows rise in the order in which words were stored, whoever stored them. */
export interface StoredWord extends Word {
  readonly row: number;
}

/** Stores a word. Once this gives a value, neither a crash nor a loss of power undoes it. */
export function addWord(db: Database, word: Word): Outcome<void> {
  return attemptOn(db, () => {
    const { id, atMs, unit, alarm, action, by, untilMs, note } = word;
    db.prepare(
      "INSERT INTO words (id, at_ms, unit, alarm, action, by, until_ms, note) VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING",
    ).run(id, atMs, unit, alarm, action, by, untilMs ?? null, note ?? null);
  });
}

/** The words stored after a row, in order; 0 for all. */
export function wordsAfter(db: Database, row: number): Outcome<readonly StoredWord[]> {
  return attemptOn(db, () =>
    db
      .prepare(
        "SELECT row, id, at_ms AS atMs, unit, alarm, action, by, until_ms AS untilMs, note FROM words WHERE row > ? ORDER BY row",
      )
      .all(row)
      .map(({ untilMs, note, ...word }) => ({
        ...(word as unknown as StoredWord),
        ...(untilMs !== null && { untilMs: Number(untilMs) }),
        ...(note !== null && { note: String(note) }),
      })),
  );
}
