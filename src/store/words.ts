import type { StoredWord, Word } from "../terms/words.ts";
import { handedOver } from "./handovers.ts";
import { attemptOn, type Outcome } from "./outcome.ts";
import type { Database } from "./sqlite.ts";

/** Stores a word. Once this gives a value, neither a crash nor a loss of power undoes it. */
export function addWord(db: Database, word: Word): Outcome<void> {
  return attemptOn(db, () => {
    const { id, atMs, unit, alarm, action, by, untilMs, note, raisedMs } = word;
    db.prepare(
      `INSERT INTO words (id, at_ms, unit, alarm, action, by, until_ms, note, raised_ms)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING`,
    ).run(id, atMs, unit, alarm, action, by, untilMs ?? null, note ?? null, raisedMs ?? null);
  });
}

/** The words on alarms stored after a row, in order; 0 for all. */
export function wordsAfter(db: Database, row: number): Outcome<readonly StoredWord[]> {
  return attemptOn(db, () =>
    db
      .prepare(
        `SELECT row, id, at_ms AS atMs, unit, alarm, action, by, until_ms AS untilMs, note, raised_ms AS raisedMs
         FROM words WHERE row > ? AND action <> '${handedOver}' ORDER BY row`,
      )
      .all(row)
      .map(({ untilMs, note, raisedMs, ...word }) => ({
        ...(word as unknown as StoredWord),
        ...(untilMs !== null && { untilMs: Number(untilMs) }),
        ...(note !== null && { note: String(note) }),
        ...(raisedMs !== null && { raisedMs: Number(raisedMs) }),
      })),
  );
}
