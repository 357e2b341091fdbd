import { day, hour, minute } from "../terms/time.ts";
import { attemptOn, inTransaction, type Outcome } from "./outcome.ts";
import { emptySummary, layOver, pack, type SignalSummary, unpack } from "./pack.ts";
import type { Database } from "./sqlite.ts";

/**
 * How finely and how long the past is kept. A row holds a unit's signals over `packMs`: about a hundred spans,
 * so that a new one rewrites little, and a row fills its page.
 */
export const levels = [
  { stepMs: minute, packMs: hour, keepMs: 3 * day },
  { stepMs: 10 * minute, packMs: day, keepMs: 30 * day },
  { stepMs: hour, packMs: 4 * day, keepMs: 400 * day },
] as const;

export type StepMs = (typeof levels)[number]["stepMs"];

/** A unit's signals over consecutive spans of `stepMs`. */
export interface SummaryRows {
  readonly stepMs: StepMs;
  /** Beginning of the first span, ms: a multiple of `stepMs`. */
  readonly fromMs: number;
  readonly signals: readonly SignalSummary[];
}

function levelOf(stepMs: StepMs): (typeof levels)[number] {
  const level = levels.find((one) => one.stepMs === stepMs);
  if (level === undefined) throw new RangeError(`no summaries are kept over ${stepMs} ms`);
  return level;
}

/** Stores a unit's summaries within the caller's transaction, over what is there of the same spans. */
export function insertSummaries(db: Database, unit: string, rows: readonly SummaryRows[]): void {
  if (rows.length === 0) return;
  const there = db.prepare("SELECT pack FROM summaries WHERE unit = ? AND step_ms = ? AND from_ms = ?");
  const save = db.prepare("INSERT OR REPLACE INTO summaries VALUES (?, ?, ?, ?)");
  for (const { stepMs, fromMs, signals } of rows) {
    const { packMs } = levelOf(stepMs);
    const endMs = fromMs + Math.max(0, ...signals.map(({ mean }) => mean.length)) * stepMs;
    for (let packFrom = Math.floor(fromMs / packMs) * packMs; packFrom < endMs; packFrom += packMs) {
      const stored = there.get(unit, stepMs, packFrom)?.pack;
      const packed = stored === undefined ? [] : unpack(stored as Uint8Array);
      const whole = laidOver(packed, signals, packMs / stepMs, (fromMs - packFrom) / stepMs);
      save.run(unit, stepMs, packFrom, pack(whole));
    }
  }
}

function laidOver(
  below: readonly SignalSummary[],
  above: readonly SignalSummary[],
  slots: number,
  offset: number,
): SignalSummary[] {
  const whole = new Map(below.map((summary) => [summary.signal, summary]));
  for (const summary of above) {
    const into = whole.get(summary.signal) ?? emptySummary(summary.signal, slots);
    layOver(into, summary, offset);
    whole.set(summary.signal, into);
  }
  return [...whole.values()].sort((a, b) => a.signal - b.signal);
}

/** A unit's kept summaries of the spans that begin at `fromMs` or later and before `toMs`; NaN where none is. */
export function summariesOf(
  db: Database,
  unit: string,
  stepMs: StepMs,
  fromMs: number,
  toMs: number,
): Outcome<SummaryRows> {
  const { packMs } = levelOf(stepMs);
  const firstMs = Math.ceil(fromMs / stepMs) * stepMs;
  const slots = Math.max(0, Math.ceil((toMs - firstMs) / stepMs));
  return attemptOn(db, () => {
    const rows = db
      .prepare(
        "SELECT from_ms, pack FROM summaries WHERE unit = ? AND step_ms = ? AND from_ms > ? AND from_ms < ?",
      )
      .all(unit, stepMs, firstMs - packMs, toMs);
    let signals: SignalSummary[] = [];
    for (const row of rows) {
      const offset = (Number(row.from_ms) - firstMs) / stepMs;
      signals = laidOver(signals, unpack(row.pack as Uint8Array), slots, offset);
    }
    return { stepMs, fromMs: firstMs, signals };
  });
}

/** Drops the summaries that have been kept long enough; for once a day or so. */
export function dropOldSummaries(db: Database, nowMs: number): Outcome<void> {
  return attemptOn(db, () =>
    inTransaction(db, () => {
      const drop = db.prepare("DELETE FROM summaries WHERE step_ms = ? AND from_ms <= ?");
      for (const { stepMs, packMs, keepMs } of levels) drop.run(stepMs, nowMs - keepMs - packMs);
    }),
  );
}
