import { hostname } from "node:os";
import { join } from "node:path";
import { keepMode, type StateFolder } from "./folder.ts";
import { attempt, attemptOn, isBusy, type Outcome } from "./outcome.ts";
import { type Database, DatabaseSync } from "./sqlite.ts";

/** The right to be the only collector on a state folder. It ends with `release`, and with the process. */
export interface Lock {
  release(): void;
}

/** The process that collects, or collected last. */
export interface Collector {
  readonly pid: number;
  readonly host: string;
  readonly sinceMs: number;
}

/** Kept from being swept up, which would let them go. */
const held = new Set<Database>();

/**
 * Takes the collector's lock; null where another has it. The lock is an exclusive transaction on `lock.db`,
 * which holds nothing. Nothing else may open that file: closing any handle on a file drops a process's POSIX
 * locks on it (https://www.sqlite.org/howtocorrupt.html, 2.2).
 */
export function tryLock(folder: StateFolder): Outcome<Lock | null> {
  const path = join(folder.path, "lock.db");
  return attempt(path, () => {
    const db = new DatabaseSync(path, { timeout: 100 });
    try {
      keepMode(path, folder.fileMode);
      db.exec("BEGIN EXCLUSIVE");
    } catch (error) {
      db.close();
      if (isBusy(error)) return null;
      throw error;
    }
    held.add(db);
    return {
      release() {
        if (held.delete(db)) db.close();
      },
    };
  });
}

/** Writes down that this process collects since `sinceMs`. For the holder of the lock. */
export function signIn(db: Database, sinceMs: number): Outcome<void> {
  return attemptOn(db, () => {
    db.prepare("INSERT OR REPLACE INTO collector (only, pid, host, since_ms) VALUES (1, ?, ?, ?)").run(
      process.pid,
      hostname(),
      sinceMs,
    );
  });
}

/** Who collects, where the lock is held; who collected last, where it is not; null where nobody ever did. */
export function lastCollector(db: Database): Outcome<Collector | null> {
  return attemptOn(db, () => {
    const row = db.prepare("SELECT pid, host, since_ms AS sinceMs FROM collector").get();
    return row === undefined ? null : ({ ...row } as unknown as Collector);
  });
}
