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

/** A log's name without its ending; undefined where it ends in none of a log's. */
export function logStem(name: string): string | undefined {
  return endsLikeLog(name) ? name.replace(ending, "") : undefined;
}

/** The unit's `log` key as a pattern from the log folder with `/`; undefined where it leaves the folder. */
export function logPattern(log: string, logs: string): string | undefined {
  const from = isAbsolute(log) ? relative(logs, log).split(sep).join("/") : log;
  const pattern = posix.normalize(from).replace(/\/$/, "");
  return pattern === ".." || pattern.startsWith("../") || isAbsolute(pattern) ? undefined : pattern;
}

const wild = /[*?[\]{}()!+@\\]/;

/** A pattern's text before its first wild character: what every path that fits begins with. */
const plainPart = (pattern: string): string => pattern.slice(0, Math.max(0, pattern.search(wild)));

/**
 * Which units' `log` keys take a path, as places in `units`. Keys that are plain names are looked up, and
 * only patterns are tried one by one, so that thousands of units with a key each stay cheap.
 */
function keyedOwners(units: readonly Unit[], logs: string): (path: string) => number[] {
  const named = new Map<string, number[]>();
  const patterns: { place: number; pattern: string; begins: string }[] = [];
  for (const [place, unit] of units.entries()) {
    const pattern = unit.log === undefined ? undefined : logPattern(unit.log, logs);
    if (pattern === undefined) continue;
    named.set(pattern, [...(named.get(pattern) ?? []), place]);
    if (wild.test(pattern)) patterns.push({ place, pattern, begins: plainPart(pattern) });
  }
  return (path) => {
    const places = new Set(named.get(path));
    if (endsLikeLog(path)) {
      for (let end = path.lastIndexOf("/"); end > 0; end = path.lastIndexOf("/", end - 1)) {
        for (const place of named.get(path.slice(0, end)) ?? []) places.add(place);
      }
      for (const place of named.get(".") ?? []) places.add(place);
    }
    for (const { place, pattern, begins } of patterns) {
      if (path.startsWith(begins) && matchesGlob(path, pattern)) places.add(place);
    }
    return [...places].sort((a, b) => a - b);
  };
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

/** So many answers are remembered. */
const mostRemembered = 100_000;

const ownerships = new WeakMap<Fleet, Ownership>();

/**
 * Who owns which log: files that a unit's `log` key takes are that unit's alone; of the rest, a file named
 * the id, or under a folder named the id, is the unit's.
 */
export function ownershipOf(fleet: Fleet): Ownership {
  const known = ownerships.get(fleet);
  if (known !== undefined) return known;
  const { units } = fleet;
  const byKey = keyedOwners(units, fleet.logs);
  const byName = new Set(units.filter((unit) => unit.log === undefined).map((unit) => unit.id));
  const remembered = new Map<string, readonly string[]>();

  function look(path: string): readonly string[] {
    const places = byKey(path);
    if (places.length > 0) return places.flatMap((place) => units[place]?.id ?? []);
    const owner = named(byName, path);
    return owner === undefined ? [] : [owner];
  }

  const ownership: Ownership = (path) => {
    const before = remembered.get(path);
    if (before !== undefined) return before;
    if (remembered.size >= mostRemembered) remembered.clear();
    const owners = look(path);
    remembered.set(path, owners);
    return owners;
  };
  ownerships.set(fleet, ownership);
  return ownership;
}
