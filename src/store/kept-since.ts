import type { Database } from "./sqlite.ts";
import { levels } from "./summaries.ts";

/**
 * Since when anything of a fleet, or of one unit, is known: the first reading that is still summed up, or an event from
 * before; to the hour for three days, to the day for thirty, else to four days. Null where nothing is kept. Throws what
 * SQLite throws.
 */
export function keptSince(db: Database, unit?: string): number | null {
  const units = unit === undefined ? db.prepare("SELECT unit FROM units").all() : [{ unit }];
  const first = db.prepare("SELECT MIN(from_ms) AS ms FROM summaries WHERE unit = ? AND step_ms = ?");
  const firstOf = (stepMs: number): number =>
    Math.min(
      ...units.map((one) => {
        const ms = first.get(one.unit, stepMs)?.ms;
        return typeof ms === "number" ? ms : Number.POSITIVE_INFINITY;
      }),
    );
  // The coarsest are kept longest; a finer one says it more exactly as long as its beginning is there.
  const [coarsest, ...finer] = levels.toReversed();
  let since = firstOf(coarsest.stepMs);
  let endMs = since + coarsest.packMs;
  for (const { stepMs, packMs } of finer) {
    const fineMs = firstOf(stepMs);
    if (fineMs >= endMs) break;
    since = Math.max(since, fineMs);
    endMs = since + packMs;
  }
  const event = db
    .prepare(`SELECT MIN(time_ms) AS ms FROM events ${unit === undefined ? "" : "WHERE unit = ?"}`)
    .get(...(unit === undefined ? [] : [unit]))?.ms;
  if (typeof event === "number") since = Math.min(since, event);
  return Number.isFinite(since) ? since : null;
}
