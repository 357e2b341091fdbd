import { isAbsolute, matchesGlob, posix, relative, sep } from "node:path";
import type { Fleet, Unit } from "../fleet/unit.ts";

/** Which units a file under the log folder belongs to, by its path from there with `/`. */
export type Ownership = (path: string) => readonly string[];

const ending = /\.csv(?:\.\d+)?(?:\.gz)?$/i;
const afterId = new Set([".", "-", "_", " "]);

/** Whether the name is a log's by the default pattern: ends .csv, .csv.gz, .csv.N or .csv.N.gz. */
function endsLikeLog(name: string): boolean {
  return ending.test(name);
}

/** The unit's `log` key as a pattern from the log folder with `/`; undefined where it leaves the folder. */
export function logPattern(log: string, logs: string): string | undefined {
  const from = isAbsolute(log) ? relative(logs, log).split(sep).join("/") : log;
  const pattern = posix.normalize(from).replace(/\/$/, "");
  return pattern === ".." || pattern.startsWith("../") || isAbsolute(pattern) ? undefined : pattern;
}

function keyed(unit: Unit, logs: string): (path: string) => boolean {
  const pattern = logPattern(unit.log ?? "", logs);
  if (pattern === undefined) return () => false;
  if (pattern === ".") return (path) => endsLikeLog(path);
  return (path) =>
    path === pattern || (path.startsWith(`${pattern}/`) && endsLikeLog(path)) || matchesGlob(path, pattern);
}

/** The unit that a path names by itself: of several, the longest id; at one length, the file's name first. */
function named(ids: ReadonlySet<string>, path: string): string | undefined {
  if (!endsLikeLog(path)) return undefined;
  const parts = path.split("/");
  const name = parts.pop() ?? "";
  let owner: string | undefined;
  for (let end = name.length - 1; end > 0 && owner === undefined; end--) {
    if (afterId.has(name.charAt(end)) && ids.has(name.slice(0, end))) owner = name.slice(0, end);
  }
  for (const folder of parts.reverse()) {
    if (ids.has(folder) && folder.length > (owner?.length ?? 0)) owner = folder;
  }
  return owner;
}

/**
 * Who owns which log: files that a unit's `log` key takes are that unit's alone; of the rest, a file named
 * the id, or under a folder named the id, is the unit's.
 */
export function ownershipOf(fleet: Fleet): Ownership {
  const withKey = fleet.units
    .filter((unit) => unit.log !== undefined)
    .map((unit) => ({ id: unit.id, takes: keyed(unit, fleet.logs) }));
  const byName = new Set(fleet.units.filter((unit) => unit.log === undefined).map((unit) => unit.id));
  return (path) => {
    const owners = withKey.filter(({ takes }) => takes(path)).map(({ id }) => id);
    if (owners.length > 0) return owners;
    const owner = named(byName, path);
    return owner === undefined ? [] : [owner];
  };
}
