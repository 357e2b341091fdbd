import { existsSync, renameSync } from "node:fs";
import { join } from "node:path";
import { visible } from "../terms/text.ts";
import { keepMode, type StateFolder } from "./folder.ts";
import { type Lock, tryLock } from "./lock.ts";
import { migrate, migrations, versionOf } from "./migrations.ts";
import { attempt, isDamage, type Outcome } from "./outcome.ts";
import { type Database, DatabaseSync } from "./sqlite.ts";

export interface OpenDatabase {
  readonly db: Database;
  /** Where a damaged database was found and set aside: the line that says so. */
  readonly notice: string | null;
}

export interface DatabaseOptions {
  /** The collector's lock, by whoever holds it: the database is then looked through for damage. */
  readonly lock?: Lock;
  readonly steps?: readonly string[];
  readonly nowMs?: number;
}

/** A writer waits this long for another's transaction; the longest is a checkpoint of a whole fleet. */
const waitMs = 5000;

/**
 * Opens `main.db` of a state folder, made or brought up to date where needed. One that a newer tarnwatch wrote
 * is refused and left as it is. A damaged one is set aside under another name with all that belongs to it, and
 * an empty one begun. Only who holds the collector's lock may do either to a database that was there; without
 * `lock` it is taken for the moment, and where a collector has it, the problem says so.
 */
export function openDatabase(
  folder: StateFolder,
  { lock, steps = migrations, nowMs = Date.now() }: DatabaseOptions = {},
): Outcome<OpenDatabase> {
  const path = join(folder.path, "main.db");
  const opened = attempt(path, (): Outcome<OpenDatabase> => {
    const version = inspect(path, lock !== undefined);
    if (version !== null && version > steps.length) return { problem: tooNew(path, version, steps.length) };
    if (version === 0 || version === steps.length) {
      const db = unlessDamaged(() => openSound(path, folder, steps));
      if (db !== null) return { value: { db, notice: null } };
    }
    const taken = lock === undefined ? tryLock(folder) : { value: lock };
    if (taken.problem !== undefined) return taken;
    if (taken.value === null) {
      const older = version !== null && version < steps.length;
      const what = older ? "an older tarnwatch has written it" : "it is damaged";
      return {
        problem: `${visible(path)}: ${what}, and a collector is running; stop that one and start it anew`,
      };
    }
    try {
      const notice = inspect(path, true) === null ? setAside(path, nowMs) : null;
      return { value: { db: openSound(path, folder, steps), notice } };
    } finally {
      if (lock === undefined) taken.value.release();
    }
  });
  return opened.problem === undefined ? opened.value : opened;
}

/**
 * The database of a state folder for reading alone, which changes nothing and makes nothing; null where none is
 * kept there. One that is damaged or newer is refused; an older one is read as it is, and whoever reads a table does
 * without what it lacked then.
 */
export function readDatabase(
  folder: string,
  steps: readonly string[] = migrations,
): Outcome<Database | null> {
  const path = join(folder, "main.db");
  const opened = attempt(path, (): Outcome<Database | null> => {
    if (!existsSync(path)) return { value: null };
    const db = new DatabaseSync(path, { readOnly: true, timeout: waitMs });
    const version = versionOf(db);
    if (version > 0 && version <= steps.length) return { value: db };
    db.close();
    return version === 0 ? { value: null } : { problem: tooNew(path, version, steps.length) };
  });
  return opened.problem === undefined ? opened.value : opened;
}

function tooNew(path: string, version: number, known: number): string {
  return `${visible(path)}: a newer tarnwatch has written it (version ${version} of the state; this one knows ${known}), and nothing of it was changed; install that one, or set another folder with --state`;
}

function unlessDamaged<T>(work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (isDamage(error)) return null;
    throw error;
  }
}

/**
 * The version of the database at a path, 0 where there is none, null where it is damaged as far as that is
 * looked for. Changes nothing of it.
 */
function inspect(path: string, lookThrough: boolean): number | null {
  if (!existsSync(path)) return 0;
  return unlessDamaged(() => {
    const db = new DatabaseSync(path, { readOnly: true, timeout: waitMs });
    try {
      return lookThrough && !isSound(db) ? null : versionOf(db);
    } finally {
      db.close();
    }
  });
}

/** The database at a path, to write to, at the last of `steps`. */
function openSound(path: string, folder: StateFolder, steps: readonly string[]): Database {
  const db = new DatabaseSync(path, { timeout: waitMs });
  try {
    keepMode(path, folder.fileMode);
    db.exec("PRAGMA journal_mode = WAL");
    // FULL: what was committed, above all a person's word, outlives a loss of power. It costs one fsync a
    // commit, and a checkpoint of a whole fleet is one commit.
    db.exec("PRAGMA synchronous = FULL");
    migrate(db, steps);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** Summaries are left out: they are nearly all of the bytes, and no alarm rests on them. */
function isSound(db: Database): boolean {
  const tables = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name != 'summaries'");
  return tables
    .all()
    .every(({ name }) => db.prepare(`PRAGMA quick_check("${name}")`).get()?.quick_check === "ok");
}

/** Renames a database and what belongs to it; the line that says so. */
function setAside(path: string, nowMs: number): string {
  const time = new Date(nowMs).toISOString().replace(/[-:]|\.\d+/g, "");
  let aside = `${path}.corrupt-${time}`;
  for (let again = 2; existsSync(aside); again++) aside = `${path}.corrupt-${time}-${again}`;
  // The log of changes first: one left behind would be taken for the new database's.
  for (const suffix of ["-wal", "-shm", ""]) {
    if (existsSync(path + suffix)) renameSync(path + suffix, aside + suffix);
  }
  return `${visible(path)}: it was damaged; it is kept as ${visible(aside)}, and an empty one was begun`;
}
