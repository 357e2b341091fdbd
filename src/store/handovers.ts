import { attemptOn, type Outcome } from "./outcome.ts";
import type { Database } from "./sqlite.ts";

/** The action of a word that says so: it is of the whole fleet, and of no alarm. */
export const handedOver = "handover";

/** That somebody handed the fleet over, and when. */
export interface HandedOver {
  /** A UUID. */
  readonly id: string;
  readonly atMs: number;
  readonly by: string;
  /** Place of each unit's newest event that was known then. */
  readonly seen: ReadonlyMap<string, number>;
}

/** Stores a handover among the words. Once this gives a value, neither a crash nor a loss of power undoes it. */
export function addHandover(db: Database, { id, atMs, by, seen }: HandedOver): Outcome<void> {
  return attemptOn(db, () => {
    db.prepare(
      `INSERT INTO words (id, at_ms, unit, alarm, action, by, note) VALUES (?, ?, '', 'all', ?, ?, ?)
       ON CONFLICT (id) DO NOTHING`,
    ).run(id, atMs, handedOver, by, JSON.stringify([...seen]));
  });
}

/** The newest handover; null where there was none. */
export function lastHandover(db: Database): Outcome<Omit<HandedOver, "id"> | null> {
  return attemptOn(db, () => {
    const row = db
      .prepare(
        "SELECT at_ms AS atMs, by, note FROM words WHERE action = ? ORDER BY at_ms DESC, row DESC LIMIT 1",
      )
      .get(handedOver);
    if (row === undefined) return null;
    const seen = new Map(JSON.parse(String(row.note)) as [string, number][]);
    return { atMs: Number(row.atMs), by: String(row.by), seen };
  });
}
