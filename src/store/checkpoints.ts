import type { UnitLogState } from "../acquire/unit-log.ts";
import { stateFrom, stateText } from "../terms/state-text.ts";
import { insertEvents, type StoredEvent } from "./events.ts";
import { attemptOn, inTransaction, type Outcome } from "./outcome.ts";
import type { Database } from "./sqlite.ts";
import { insertSummaries, type SummaryRows } from "./summaries.ts";

/** All that a unit's next start rests on, and what it has told since the last one. */
export interface UnitSave {
  readonly unit: string;
  /** The unit's state, by the collector's encoding. */
  readonly text: string;
  readonly logs: UnitLogState;
  /** What people have done about its alarms, and what else the collector goes on with: plain data. */
  readonly people: unknown;
  readonly events: readonly StoredEvent[];
  /** The rows of the last word and the last service record taken in; 0 where there was none. */
  readonly wordRow: number;
  readonly serviceRow: number;
  readonly summaries?: readonly SummaryRows[];
}

export interface SavedUnit extends Pick<UnitSave, "text" | "logs" | "people" | "wordRow" | "serviceRow"> {
  /** The place of its newest event; the next one is one more. */
  readonly seq: number;
  /** Time of its newest event, ms; null where there is none. */
  readonly toldMs: number | null;
}

/** Stores units' checkpoints in one transaction: after a crash all of it is there, or none of it. */
export function saveUnits(db: Database, units: readonly UnitSave[]): Outcome<void> {
  return attemptOn(db, () =>
    inTransaction(db, () => {
      const save = db.prepare(
        "INSERT OR REPLACE INTO units (unit, state, logs, people, word_row, service_row) VALUES (?, ?, ?, ?, ?, ?)",
      );
      for (const { unit, text, logs, people, events, wordRow, serviceRow, summaries = [] } of units) {
        save.run(unit, text, stateText(logs), stateText(people), wordRow, serviceRow);
        insertEvents(db, events);
        insertSummaries(db, unit, summaries);
      }
    }),
  );
}

/** A unit's last checkpoint; null where it has none. */
export function loadUnit(db: Database, unit: string): Outcome<SavedUnit | null> {
  return attemptOn(db, () => {
    // In one statement: a collector may keep the unit between two.
    const row = db
      .prepare(
        `SELECT state, logs, people, word_row, service_row, seq, time_ms
         FROM units LEFT JOIN events ON events.unit = units.unit WHERE units.unit = ? ORDER BY seq DESC LIMIT 1`,
      )
      .get(unit);
    if (row === undefined) return null;
    return {
      text: String(row.state),
      logs: stateFrom(String(row.logs)) as UnitLogState,
      people: stateFrom(String(row.people)),
      wordRow: Number(row.word_row),
      serviceRow: Number(row.service_row),
      seq: Number(row.seq ?? 0),
      toldMs: row.time_ms === null ? null : Number(row.time_ms),
    };
  });
}
