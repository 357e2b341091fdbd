import type { ServiceRecord } from "../fleet/unit.ts";
import type { Visit } from "../fleet/visit.ts";
import { attemptOn, type Outcome } from "./outcome.ts";
import type { Database } from "./sqlite.ts";

/** A service as a person recorded it. */
export interface SaidService extends ServiceRecord {
  /** A UUID, given where it is said: said again, it is the same record. */
  readonly id: string;
  readonly by: string;
  /** When it was recorded, ms; `atMs` may be earlier, or of a planned stop later. */
  readonly saidMs: number;
}

/** A record in its place: rows rise in the order in which records were stored. */
export interface StoredService extends SaidService {
  readonly row: number;
}

/** Stores a service record. Once this gives a value, neither a crash nor a loss of power undoes it. */
export function addService(db: Database, record: SaidService): Outcome<void> {
  return attemptOn(db, () => {
    const { id, unit, work, step, atMs, untilMs, by, note, saidMs, visit } = record;
    db.prepare(
      `INSERT INTO services (id, unit, work, step, at_ms, until_ms, by, note, said_ms, visit)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING`,
    ).run(
      id,
      unit,
      work,
      step,
      atMs,
      untilMs ?? null,
      by,
      note ?? null,
      saidMs,
      visit === undefined ? null : JSON.stringify(visit),
    );
  });
}

/** The records stored after a row, in order; 0 for all. A database from before visits were kept has none. */
export function servicesAfter(db: Database, row: number): Outcome<readonly StoredService[]> {
  return attemptOn(db, () =>
    db.prepare("SELECT * FROM services WHERE row > ? ORDER BY row").all(row).map(recordOf),
  );
}

function recordOf({
  at_ms,
  until_ms,
  said_ms,
  note,
  visit,
  ...record
}: Record<string, unknown>): StoredService {
  return {
    ...(record as Pick<StoredService, "row" | "id" | "unit" | "work" | "step" | "by">),
    atMs: Number(at_ms),
    saidMs: Number(said_ms),
    ...(until_ms !== null && { untilMs: Number(until_ms) }),
    ...(note !== null && { note: String(note) }),
    ...(typeof visit === "string" && { visit: JSON.parse(visit) as Visit }),
  };
}
