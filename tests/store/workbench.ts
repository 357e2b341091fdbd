import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, expect } from "vitest";
import { bareFleet } from "../../src/acquire/bare-unit.ts";
import { openUnitLog, type UnitLogState } from "../../src/acquire/unit-log.ts";
import { openDatabase } from "../../src/store/database.ts";
import { openStateFolder, type StateFolder } from "../../src/store/folder.ts";
import type { Outcome } from "../../src/store/outcome.ts";
import type { Database } from "../../src/store/sqlite.ts";

const cleanUps: (() => void)[] = [];
afterEach(() => {
  for (const cleanUp of cleanUps.splice(0).reverse()) cleanUp();
});

/** A folder of its own that goes after the test. */
export function emptyFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-store-"));
  cleanUps.push(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** The value of what must have come off. */
export function done<T>(outcome: Outcome<T>): T {
  expect(outcome.problem).toBeUndefined();
  return outcome.value as T;
}

export async function stateFolder(): Promise<StateFolder> {
  return done(await openStateFolder(join(emptyFolder(), "state")));
}

/** The folder's database, closed after the test. */
export function database(
  folder: StateFolder,
  ...options: Parameters<typeof openDatabase> extends [unknown, ...infer Rest] ? Rest : never
): Database {
  const { db } = done(openDatabase(folder, ...options));
  cleanUps.push(() => db.isOpen && db.close());
  return db;
}

/** Where reading a unit's logs stands before the first. */
export function freshLogs(folder: string): UnitLogState {
  const { unit, fleet } = bareFleet("log", folder);
  return openUnitLog(unit, fleet).save();
}

/** The child script in a process of its own; resolves once it has written its first line. */
export async function child(what: string, folder: StateFolder): Promise<ChildProcess> {
  const script = fileURLToPath(new URL("child.ts", import.meta.url));
  const started = spawn(process.execPath, [script, what, folder.path], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  cleanUps.push(() => started.kill("SIGKILL"));
  await once(started.stdout, "data");
  return started;
}

/** Ends a process at once, as a loss of power or of memory would. */
export async function kill(process: ChildProcess): Promise<void> {
  const gone = once(process, "exit");
  process.kill("SIGKILL");
  await gone;
}
