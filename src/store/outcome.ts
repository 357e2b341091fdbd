import { visible } from "../terms/text.ts";
import type { Database } from "./sqlite.ts";

/** What came of something that the disk or another program can refuse: a value, or one line for people. */
export type Outcome<T> =
  | { readonly value: T; readonly problem?: undefined }
  | { readonly value?: undefined; readonly problem: string };

/** Primary result codes of SQLite (sqlite3.h, https://www.sqlite.org/rescode.html). */
const busy = 5;
const corrupt = 11;
const notADatabase = 26;

/** What to do, by SQLite's primary result code. */
const advice: ReadonlyMap<number, string> = new Map([
  [busy, "another program has kept it locked for too long; close what else has it open"],
  [8, "it can only be read; give the user that runs tarnwatch the right to write it"],
  [10, "the disk failed; look at the system's log and at the disk"],
  [corrupt, "it is damaged; start the collector anew, which sets it aside and begins another"],
  [13, "the disk is full, and nothing of this was stored; free space on it"],
  [14, "it cannot be opened; give the user that runs tarnwatch the right to read and write its folder"],
  [notADatabase, "it is damaged; start the collector anew, which sets it aside and begins another"],
]);

function primaryCode(error: unknown): number | undefined {
  const { code, errcode } = error as { code?: unknown; errcode?: unknown };
  return code === "ERR_SQLITE_ERROR" && typeof errcode === "number" ? errcode & 0xff : undefined;
}

/** Whether an error says that another connection holds the lock that was asked for. */
export function isBusy(error: unknown): boolean {
  return primaryCode(error) === busy;
}

/** Whether an error says that a file is no whole database. */
export function isDamage(error: unknown): boolean {
  const code = primaryCode(error);
  return code === corrupt || code === notADatabase;
}

/** `work`'s value, or the problem where the disk or another program refused it. Throws any other error. */
export function attempt<T>(path: string, work: () => T): Outcome<T> {
  try {
    return { value: work() };
  } catch (error) {
    const what = advice.get(primaryCode(error) ?? -1);
    if (what === undefined) throw error;
    return { problem: `${visible(path)}: ${what}` };
  }
}

/** `work` on an open database, as `attempt`. */
export function attemptOn<T>(db: Database, work: () => T): Outcome<T> {
  return attempt(db.location() ?? "the state", work);
}

/** `work` in one transaction: all of it is stored, or, where it throws, nothing. */
export function inTransaction<T>(db: Database, work: () => T): T {
  db.exec("BEGIN IMMEDIATE");
  try {
    const value = work();
    db.exec("COMMIT");
    return value;
  } catch (error) {
    // SQLite has itself rolled back after some errors, such as a full disk.
    if (db.isTransaction) db.exec("ROLLBACK");
    throw error;
  }
}
