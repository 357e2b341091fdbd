import { inTransaction } from "./outcome.ts";
import type { Database } from "./sqlite.ts";

/**
 * The steps from an empty database to today's, one a version, each run once. A step that was released is never
 * changed: a change is a new step. `user_version` counts the steps that were taken.
 */
export const migrations: readonly string[] = [
  `
  CREATE TABLE collector (
    only INTEGER PRIMARY KEY CHECK (only = 1),
    pid INTEGER NOT NULL,
    host TEXT NOT NULL,
    since_ms REAL NOT NULL
  ) STRICT;

  -- AUTOINCREMENT: a row's number is never given again, so that "after row n" misses no word.
  CREATE TABLE words (
    row INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE,
    at_ms REAL NOT NULL,
    unit TEXT NOT NULL,
    alarm TEXT NOT NULL,
    action TEXT NOT NULL,
    by TEXT NOT NULL,
    until_ms REAL,
    note TEXT,
    raised_ms REAL
  ) STRICT;

  CREATE TABLE services (
    row INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE,
    unit TEXT NOT NULL,
    work TEXT NOT NULL,
    step TEXT NOT NULL,
    at_ms REAL NOT NULL,
    until_ms REAL,
    by TEXT NOT NULL,
    note TEXT,
    said_ms REAL NOT NULL
  ) STRICT;

  -- A row is there before its message is sent: after a crash it goes again under the same id.
  CREATE TABLE deliveries (
    message TEXT NOT NULL,
    way TEXT NOT NULL,
    line TEXT NOT NULL,
    step INTEGER NOT NULL,
    kind TEXT NOT NULL,
    alarms TEXT NOT NULL,
    content TEXT NOT NULL,
    made_ms REAL NOT NULL,
    outcome TEXT NOT NULL,
    tries INTEGER NOT NULL,
    at_ms REAL NOT NULL,
    detail TEXT,
    PRIMARY KEY (message, way, line)
  ) STRICT;

  CREATE TABLE events (
    unit TEXT NOT NULL,
    seq INTEGER NOT NULL,
    time_ms REAL NOT NULL,
    line TEXT NOT NULL,
    UNIQUE (unit, seq)
  ) STRICT;
  CREATE INDEX events_by_time ON events (time_ms);

  CREATE TABLE units (
    unit TEXT PRIMARY KEY,
    state TEXT NOT NULL,
    logs TEXT NOT NULL,
    people TEXT NOT NULL,
    word_row INTEGER NOT NULL,
    service_row INTEGER NOT NULL
  ) STRICT;

  CREATE TABLE summaries (
    unit TEXT NOT NULL,
    step_ms INTEGER NOT NULL,
    from_ms INTEGER NOT NULL,
    pack BLOB NOT NULL,
    PRIMARY KEY (unit, step_ms, from_ms)
  ) STRICT;
  `,
  // What a person told of a visit beside the work, as JSON.
  "ALTER TABLE services ADD COLUMN visit TEXT",
];

/** The number of steps that a database has been taken through. */
export function versionOf(db: Database): number {
  return Number(db.prepare("PRAGMA user_version").get()?.user_version);
}

/** Takes a database through the steps that it lacks, in one transaction. */
export function migrate(db: Database, steps: readonly string[] = migrations): void {
  if (versionOf(db) >= steps.length) return;
  inTransaction(db, () => {
    // Another process may have been quicker since.
    for (const step of steps.slice(versionOf(db))) db.exec(step);
    db.exec(`PRAGMA user_version = ${steps.length}`);
  });
}
