import { loadUnit, type SavedUnit, saveUnits, type UnitSave } from "../store/checkpoints.ts";
import { openDatabase } from "../store/database.ts";
import { openStateFolder } from "../store/folder.ts";
import { signIn, tryLock } from "../store/lock.ts";
import type { Outcome } from "../store/outcome.ts";
import { addService, type SaidService, type StoredService, servicesAfter } from "../store/services.ts";
import type { Database } from "../store/sqlite.ts";
import { dropOldSummaries } from "../store/summaries.ts";
import { addWord, wordsAfter } from "../store/words.ts";
import type { StoredWord, Word } from "../terms/words.ts";
import type { CollectorView } from "./fleet-view.ts";

/** Where a fleet's state is kept, and what for. */
export interface KeepOptions {
  /** Absolute path of the state folder. */
  readonly folder: string;
  readonly group?: string;
  readonly kind: CollectorView["kind"];
}

/** The collector's hold on the state folder: the only writer of conditions. */
export interface Keeping {
  readonly folder: string;
  readonly fileMode: number;
  readonly sinceMs: number;
  readonly db: Database;
  /** What a person should know of the database as it was found. */
  readonly notice: string | null;
  /** A unit as it was kept; null where nothing is. Throws where that cannot be read. */
  load(unit: string): SavedUnit | null;
  /** Keeps units with what they told, all or none; false where that was refused: try again later. */
  save(units: readonly UnitSave[]): boolean;
  /** Another than before once anybody has stored something: a look that finds the same need not read. */
  version(): string;
  /** What people said after a row, through whichever process; nothing where that cannot be read now. */
  wordsAfter(row: number): readonly StoredWord[];
  servicesAfter(row: number): readonly StoredService[];
  /** Keeps what a person says; the problem where that was refused. */
  say(said: Said): string | null;
  /** Drops the summaries that have been kept long enough at `nowMs`. */
  dropOld(nowMs: number): void;
  /** Why nothing can be kept at present, as one line; null where all is well. */
  problem(): string | null;
  close(): void;
}

/** A word on an alarm, or a service record. */
export type Said =
  | { readonly kind: "word"; readonly word: Word }
  | { readonly kind: "service"; readonly record: SaidService };

/** What came of asking for the state folder. */
export type Asked =
  | { readonly kept: Keeping }
  /** Another process collects there. */
  | { readonly taken: true }
  | { readonly problem: string };

/** Asks for the right to collect on a state folder. */
export async function startKeeping({ folder: path, group }: KeepOptions): Promise<Asked> {
  const folder = await openStateFolder(path, group === undefined ? {} : { group });
  if (folder.problem !== undefined) return { problem: folder.problem };
  const lock = tryLock(folder.value);
  if (lock.problem !== undefined) return { problem: lock.problem };
  if (lock.value === null) return { taken: true };
  const held = lock.value;
  const opened = openDatabase(folder.value, { lock: held });
  if (opened.problem !== undefined) {
    held.release();
    return { problem: opened.problem };
  }
  const { db, notice } = opened.value;
  const sinceMs = Date.now();
  let standing: string | null = null;
  const note = (outcome: Outcome<unknown>): boolean => {
    standing = outcome.problem ?? null;
    return standing === null;
  };
  note(signIn(db, sinceMs));
  /** Its own changes do not count in `data_version`. */
  let own = 0;
  return {
    kept: {
      folder: path,
      fileMode: folder.value.fileMode,
      sinceMs,
      db,
      notice,
      load: (unit) => {
        const saved = loadUnit(db, unit);
        // Beginning anew instead would tell again what was told.
        if (saved.problem !== undefined) throw new Error(saved.problem);
        return saved.value;
      },
      save: (units) => note(saveUnits(db, units)),
      version: () => `${versionOf(db)} ${own}`,
      wordsAfter: (row) => wordsAfter(db, row).value ?? [],
      servicesAfter: (row) => servicesAfter(db, row).value ?? [],
      say: (said) => {
        own++;
        const outcome = said.kind === "word" ? addWord(db, said.word) : addService(db, said.record);
        return outcome.problem ?? null;
      },
      // One that is refused is tried again with the next.
      dropOld: (nowMs) => void dropOldSummaries(db, nowMs),
      problem: () => standing,
      close: () => {
        db.close();
        held.release();
      },
    },
  };
}

/** Rises where another connection has changed the database (https://www.sqlite.org/pragma.html#pragma_data_version). */
function versionOf(db: Database): number {
  return Number(db.prepare("PRAGMA data_version").get()?.data_version);
}
