import { stat } from "node:fs/promises";
import type { Fleet } from "../fleet/unit.ts";
import { findLogs } from "./find.ts";

/** How a unit's logs looked at the last sweep: each path with its size, time of change and inode. */
type Looks = ReadonlyMap<string, string>;

/** So many files are looked at side by side: on a network each look is a wait, and none holds a handle. */
const atOnce = 32;

async function looksOf(paths: readonly string[]): Promise<Looks> {
  const looks = new Map<string, string>();
  async function lookAt(path: string): Promise<void> {
    try {
      const { size, mtimeMs, ino } = await stat(path);
      looks.set(path, `${size} ${mtimeMs} ${ino}`);
    } catch {
      // Gone since it was found, or not to be looked at: it counts as not there.
    }
  }
  for (let at = 0; at < paths.length; at += atOnce) {
    await Promise.all(paths.slice(at, at + atOnce).map(lookAt));
  }
  return looks;
}

const lookOf = (all: Looks, path: string): [string, string][] => {
  const look = all.get(path);
  return look === undefined ? [] : [[path, look]];
};

/** A sweep over all logs of a fleet: what changed since the one before. */
export interface Sweep {
  /** Units whose logs have grown or changed; `moved` where some came or went. */
  look(): Promise<{ changed: Set<string>; moved: boolean }>;
}

/** Sweeps by looking at every file; works where nothing can be watched. The first look finds no change. */
export function sweepOf(fleet: Fleet): Sweep {
  let before: Map<string, Looks> | undefined;
  return {
    async look() {
      const { files } = await findLogs(fleet);
      const all = await looksOf([...files.values()].flat());
      const now = new Map<string, Looks>();
      const changed = new Set<string>();
      let moved = false;
      for (const [id, paths] of files) {
        const looks: Looks = new Map(paths.flatMap((path) => lookOf(all, path)));
        now.set(id, looks);
        const old = before?.get(id);
        if (old === undefined) continue;
        const same = looks.size === old.size && [...looks.keys()].every((path) => old.has(path));
        if (!same) moved = true;
        if (!same || [...looks].some(([path, look]) => old.get(path) !== look)) changed.add(id);
      }
      before = now;
      return { changed, moved };
    },
  };
}
