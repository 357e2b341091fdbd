import type { KeptUnit } from "../collector/share.ts";
import { withLapses } from "../fleet/services.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import { loadUnit } from "../store/checkpoints.ts";
import { readDatabase } from "../store/database.ts";
import { servicesAfter } from "../store/services.ts";
import { wordsAfter } from "../store/words.ts";
import { must } from "./kept-state.ts";

/** What a fleet's state folder holds of its units up to a time. */
export interface KeptFleet {
  readonly units: ReadonlyMap<string, KeptUnit>;
  /** What people recorded, with the ends of what ended by itself. */
  readonly services: readonly ServiceRecord[];
}

/**
 * Reads a state folder without changing it; nothing where there is none. With `goOn` units are given as they were
 * kept, to be read on from there; otherwise only what people said, up to `atMs`.
 */
export function readKept(fleet: Fleet, folder: string, atMs: number, goOn: boolean): KeptFleet {
  const db = must(readDatabase(folder));
  if (db === null) return { units: new Map(), services: [] };
  try {
    const words = must(wordsAfter(db, 0)).filter((word) => word.atMs <= atMs);
    const services = must(servicesAfter(db, 0)).filter((record) => record.saidMs <= atMs);
    const units = fleet.units.map(({ id }): [string, KeptUnit] => [
      id,
      {
        saved: goOn ? must(loadUnit(db, id)) : null,
        services: services.filter(({ unit }) => unit === id),
        words: words.filter(({ unit }) => unit === id),
      },
    ]);
    const ids = new Set(fleet.units.map(({ id }) => id));
    return { units: new Map(units), services: withLapses(services.filter(({ unit }) => ids.has(unit))) };
  } finally {
    db.close();
  }
}
