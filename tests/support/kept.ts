import { join } from "node:path";
import type { Told } from "../../src/assess/lives.ts";
import { openDatabase } from "../../src/store/database.ts";
import { insertEvents } from "../../src/store/events.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { inTransaction } from "../../src/store/outcome.ts";
import type { Database } from "../../src/store/sqlite.ts";
import { iso } from "../../src/terms/time.ts";
import { folderWith } from "./program.ts";

/** A state folder of its own, and its database. */
export async function emptyState(): Promise<{ folder: string; db: Database }> {
  const opened = await openStateFolder(join(folderWith({}), "state"));
  if (opened.problem !== undefined) throw new Error(opened.problem);
  const database = openDatabase(opened.value);
  if (database.problem !== undefined) throw new Error(database.problem);
  return { folder: opened.value.path, db: database.value.db };
}

/** Keeps events as a collector would. */
export function keepEvents(db: Database, events: readonly Told[]): void {
  const stored = events.map(({ timeMs, sinceMs, seq: _, ...event }, n) => ({
    unit: event.unit,
    seq: n + 1,
    timeMs,
    line: JSON.stringify({ ...event, time: iso(timeMs), since: iso(sinceMs), seq: n + 1 }),
  }));
  inTransaction(db, () => insertEvents(db, stored));
}
