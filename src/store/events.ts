import type { AlarmEvent } from "../terms/events.ts";
import { attemptOn, type Outcome } from "./outcome.ts";
import type { Database } from "./sqlite.ts";

/** An event as it is kept: its place, its time, and its line of JSON as `replay --events` writes it. */
export interface StoredEvent extends Pick<AlarmEvent, "unit" | "seq" | "timeMs"> {
  readonly line: string;
}

export interface EventsWanted {
  /** Both inclusive, ms. */
  readonly sinceMs?: number;
  readonly untilMs?: number;
  readonly unit?: string;
}

/**
 * Stores events within the caller's transaction; one that is there already is left as it is. Throws where
 * another event has its place.
 */
export function insertEvents(db: Database, events: readonly StoredEvent[]): void {
  if (events.length === 0) return;
  const insert = db.prepare(
    "INSERT INTO events (unit, seq, time_ms, line) VALUES (?, ?, ?, ?) ON CONFLICT (unit, seq) DO NOTHING",
  );
  const there = db.prepare("SELECT line FROM events WHERE unit = ? AND seq = ?");
  for (const { unit, seq, timeMs, line } of events) {
    if (insert.run(unit, seq, timeMs, line).changes === 0 && there.get(unit, seq)?.line !== line) {
      throw new Error(`${unit}: event ${seq} is already stored, and is another`);
    }
  }
}

/** Kept events by time, then unit, then place. */
export function eventsOf(db: Database, wanted: EventsWanted = {}): Outcome<readonly StoredEvent[]> {
  return attemptOn(db, () => [...eventsIn(db, wanted)]);
}

const pageRows = 1000;

/**
 * As `eventsOf`, one after another: a year of them need not lie in memory, and no read is held open while somebody
 * looks at a page. Throws what SQLite throws.
 */
export function* eventsIn(
  db: Database,
  { sinceMs = -Infinity, untilMs = Infinity, unit }: EventsWanted,
): Generator<StoredEvent> {
  const page = db.prepare(
    `SELECT unit, seq, time_ms AS timeMs, line FROM events
     WHERE time_ms >= ? AND time_ms <= ? AND (time_ms, unit, seq) > (?, ?, ?) ${unit === undefined ? "" : "AND +unit = ?"}
     ORDER BY time_ms, unit, seq LIMIT ${pageRows}`,
  );
  let after: [number, string, number] = [-Infinity, "", 0];
  for (;;) {
    // SQLite looks up a time in its index, and not the three together: else each page reads all before it.
    const rows = page.all(
      Math.max(sinceMs, after[0]),
      untilMs,
      ...after,
      ...(unit === undefined ? [] : [unit]),
    );
    for (const row of rows) yield { ...row } as unknown as StoredEvent;
    const last = rows.at(-1);
    if (last === undefined || rows.length < pageRows) return;
    after = [Number(last.timeMs), String(last.unit), Number(last.seq)];
  }
}

/** Place of the first event of each unit from a time on. Throws what SQLite throws. */
export function firstEvents(db: Database, sinceMs: number): ReadonlyMap<string, number> {
  // The plus keeps SQLite to the index of times: by units it would read all events.
  const rows = db
    .prepare("SELECT unit, MIN(seq) AS seq FROM events WHERE time_ms >= ? GROUP BY +unit")
    .all(sinceMs);
  return new Map(rows.map(({ unit, seq }) => [String(unit), Number(seq)]));
}

/** A unit's events from a place on, in order. Throws what SQLite throws. */
export function eventsFrom(db: Database, unit: string, seq: number): readonly StoredEvent[] {
  return db
    .prepare("SELECT unit, seq, time_ms AS timeMs, line FROM events WHERE unit = ? AND seq >= ? ORDER BY seq")
    .all(unit, seq)
    .map((row) => ({ ...row }) as unknown as StoredEvent);
}

/** A unit's events of one alarm before a place, the newest first. Throws what SQLite throws. */
export function* eventsOfAlarmBefore(
  db: Database,
  unit: string,
  seq: number,
  alarm: string,
): Generator<StoredEvent> {
  const rows = db
    .prepare(
      `SELECT unit, seq, time_ms AS timeMs, line FROM events
       WHERE unit = ? AND seq < ? AND json_extract(line, '$.alarm') = ? ORDER BY seq DESC`,
    )
    .iterate(unit, seq, alarm);
  for (const row of rows) yield { ...row } as unknown as StoredEvent;
}

/** A unit's changes of alarms, in order, without their evidence. */
export function changesOf(
  db: Database,
  unit: string,
): Outcome<readonly Pick<AlarmEvent, "timeMs" | "alarm" | "event">[]> {
  return attemptOn(db, () =>
    db
      .prepare(
        `SELECT time_ms AS timeMs, json_extract(line, '$.alarm') AS alarm, json_extract(line, '$.event') AS event
         FROM events WHERE unit = ? ORDER BY seq`,
      )
      .all(unit)
      .map((row) => ({ ...row }) as unknown as Pick<AlarmEvent, "timeMs" | "alarm" | "event">),
  );
}

/** Kept events before a place, the newest first; `seq` of the place may be +∞. Throws what SQLite throws. */
export function* eventsBefore(
  db: Database,
  { sinceMs = -Infinity, untilMs = Infinity }: EventsWanted,
  before: Pick<StoredEvent, "timeMs" | "unit" | "seq"> | null,
): Generator<StoredEvent> {
  const page = db.prepare(
    `SELECT unit, seq, time_ms AS timeMs, line FROM events
     WHERE time_ms >= ? AND time_ms <= ? AND (? IS NULL OR (time_ms, unit, seq) < (?, ?, ?))
     ORDER BY time_ms DESC, unit DESC, seq DESC LIMIT ${pageRows}`,
  );
  let place = before;
  for (;;) {
    const latestMs = Math.min(untilMs, place?.timeMs ?? Infinity);
    const { timeMs = null, unit = null, seq = null } = place ?? {};
    const rows = page.all(sinceMs, latestMs, timeMs, timeMs, unit, seq);
    for (const row of rows) yield { ...row } as unknown as StoredEvent;
    const last = rows.at(-1);
    if (last === undefined || rows.length < pageRows) return;
    place = { timeMs: Number(last.timeMs), unit: String(last.unit), seq: Number(last.seq) };
  }
}

/** Place and time of a unit's newest kept event; undefined where there is none. */
export function newestEvent(db: Database, unit: string): Pick<StoredEvent, "seq" | "timeMs"> | undefined {
  const row = db
    .prepare("SELECT seq, time_ms AS timeMs FROM events WHERE unit = ? ORDER BY seq DESC LIMIT 1")
    .get(unit);
  return row && { seq: Number(row.seq), timeMs: Number(row.timeMs) };
}
