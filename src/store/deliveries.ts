import type { AlarmName, Priority } from "../terms/alarms.ts";
import { attemptOn, inTransaction, type Outcome } from "./outcome.ts";
import type { Database } from "./sqlite.ts";

/** One alarm as a message told it. */
export interface ToldAlarm {
  /** Names this raising of it, over restarts too. */
  readonly id: string;
  readonly unit: string;
  readonly alarm: AlarmName;
  readonly priority: Priority;
  readonly chattering?: true;
}

/** A message to one way, and what became of it. */
export interface Delivery {
  /** The same each time this message is sent: its `Idempotency-Key`. */
  readonly message: string;
  /** Empty where there is nothing to send. */
  readonly way: string;
  /** The line of `send` that asked for it. */
  readonly line: string;
  /** 0 for those told first, 1 for those told where they did not answer, and so on. */
  readonly step: number;
  readonly kind: "raised" | "escalated" | "returned";
  readonly alarms: readonly ToldAlarm[];
  /** What is sent: one line of JSON. Empty, what was stored before stays. */
  readonly content: string;
  readonly madeMs: number;
  /**
   * `refused`: it would be in vain to try again. `withdrawn`: over before it came through. `covered`: not
   * sent, since this way has told of it already, or of its chattering.
   */
  readonly outcome: "waiting" | "delivered" | "refused" | "withdrawn" | "covered";
  readonly tries: number;
  /** When the outcome was last written, ms. */
  readonly atMs: number;
  /** Why the last try came to nothing, in one line. */
  readonly detail?: string;
}

/** Stores deliveries as they stand now, all of them or none. */
export function saveDeliveries(db: Database, deliveries: readonly Delivery[]): Outcome<void> {
  return attemptOn(db, () =>
    inTransaction(db, () => {
      const save = db.prepare(
        `INSERT INTO deliveries
         (message, way, line, step, kind, alarms, content, made_ms, outcome, tries, at_ms, detail)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (message, way, line) DO UPDATE SET
         step = excluded.step, kind = excluded.kind, alarms = excluded.alarms,
         content = CASE excluded.content WHEN '' THEN content ELSE excluded.content END,
         made_ms = excluded.made_ms, outcome = excluded.outcome, tries = excluded.tries,
         at_ms = excluded.at_ms, detail = excluded.detail`,
      );
      for (const { message, way, line, step, kind, alarms, content, ...of } of deliveries) {
        const { madeMs, outcome, tries, atMs, detail = null } = of;
        const told = JSON.stringify(alarms);
        save.run(message, way, line, step, kind, told, content, madeMs, outcome, tries, atMs, detail);
      }
    }),
  );
}

/** All deliveries that are kept, in the order in which they were made; those that are over without their content. */
export function loadDeliveries(db: Database): Outcome<readonly Delivery[]> {
  return attemptOn(db, () =>
    db
      .prepare(
        `SELECT message, way, line, step, kind, alarms, made_ms AS madeMs, outcome, tries, at_ms AS atMs, detail,
         CASE WHEN outcome IN ('waiting', 'refused') THEN content ELSE '' END AS content
         FROM deliveries ORDER BY made_ms, rowid`,
      )
      .all()
      .map(({ alarms, detail, ...row }) => ({
        ...(row as unknown as Delivery),
        alarms: JSON.parse(String(alarms)) as ToldAlarm[],
        ...(detail !== null && { detail: String(detail) }),
      })),
  );
}

/** Drops what was made before a moment (ms) and waits for nothing. */
export function dropDeliveries(db: Database, beforeMs: number): Outcome<void> {
  return attemptOn(db, () => {
    db.prepare("DELETE FROM deliveries WHERE made_ms < ? AND outcome <> 'waiting'").run(beforeMs);
  });
}
