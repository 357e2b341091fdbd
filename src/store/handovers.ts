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
}

/** Stores a handover among the words. Once this gives a value, neither a crash nor a loss of power undoes it. */
export function addHandover(db: Database, { id, atMs, by }: HandedOver): Outcome<void> {
  return attemptOn(db, () => {
    db.prepare(
      "INSERT INTO words (id, at_ms, unit, alarm, action, by) VALUES (?, ?, '', 'all', ?, ?) ON CONFLICT (id) DO NOTHING",
    ).run(id, atMs, handedOver, by);
  });
}

/** The newest handover; null where there was none. */
export function lastHandover(db: Database): Outcome<Omit<HandedOver, "id"> | null> {
  return attemptOn(db, () => {
    const row = db
      .prepare("SELECT at_ms AS atMs, by FROM words WHERE action = ? ORDER BY at_ms DESC, row DESC LIMIT 1")
      .get(handedOver);
    return row === undefined ? null : { atMs: Number(row.atMs), by: String(row.by) };
  });
}
