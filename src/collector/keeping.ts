import { loadUnit, type SavedUnit, saveUnits, type UnitSave } from "../store/checkpoints.ts";
import { openDatabase } from "../store/database.ts";
import { openStateFolder } from "../store/folder.ts";
import { signIn, tryLock } from "../store/lock.ts";
import type { Outcome } from "../store/outcome.ts";
import { addService, type SaidService, type StoredService, servicesAfter } from "../store/services.ts";
import type { Database } from "../store/sqlite.ts";
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
  /** What people have said since the last call, also through other processes. */
  takeWords(): readonly StoredWord[];
  takeServices(): readonly StoredService[];
  /** Keeps what a person says; the problem where that was refused. */
  say(said: Said): string | null;
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
  let wordRow = 0;
  let serviceRow = 0;
  let seen = -1;
  let words: StoredWord[] = [];
  let services: StoredService[] = [];
  /** Reads what others have stored since; a look at the version costs no reading. */
  const look = (): void => {
    const now = versionOf(db);
    if (now === seen) return;
    const freshWords = wordsAfter(db, wordRow);
    const freshServices = servicesAfter(db, serviceRow);
    if (freshWords.problem !== undefined || freshServices.problem !== undefined) return;
    seen = now;
    words = [...words, ...freshWords.value];
    services = [...services, ...freshServices.value];
    wordRow = words.at(-1)?.row ?? wordRow;
    serviceRow = services.at(-1)?.row ?? serviceRow;
  };
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
      takeWords: () => {
        look();
        const taken = words;
        words = [];
        return taken;
      },
      takeServices: () => {
        look();
        const taken = services;
        services = [];
        return taken;
      },
      say: (said) => {
        const outcome = said.kind === "word" ? addWord(db, said.word) : addService(db, said.record);
        // Its own changes do not count in `data_version`.
        seen = -1;
        return outcome.problem ?? null;
      },
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
