import { posix } from "node:path";
import { ownershipOf } from "../../acquire/ownership.ts";
import type { Fleet, Unit } from "../../fleet/unit.ts";
import type { UnitLogs } from "./units.ts";

const escaped = (text: string): string => text.replace(/[*?[\]{}()!+@\\]/g, "\\$&");
const digits = /\d+/g;

/** A pattern for paths that differ in their numbers only. */
function patternFor(paths: readonly string[]): string | undefined {
  const [first = ""] = paths;
  const shape = first.replace(digits, "0");
  if (paths.some((path) => path.replace(digits, "0") !== shape)) return undefined;
  const numbers = paths.map((path) => path.match(digits) ?? []);
  let place = -1;
  const varies = (at: number) => new Set(numbers.map((list) => list[at])).size > 1;
  return escaped(first).replace(digits, (number) => {
    place++;
    return varies(place) ? "*" : number;
  });
}

/** Keys that may take a unit's logs, the simplest first. */
function keysFor(paths: readonly string[]): readonly string[] {
  const [first = ""] = paths;
  const folder = posix.dirname(first);
  const common = folder.split("/").reduce((whole, part) => {
    const next = whole === "" ? part : `${whole}/${part}`;
    return paths.every((path) => path.startsWith(`${next}/`)) ? next : whole;
  }, "");
  const pattern = patternFor(paths);
  const shapes = new Map<string, string[]>();
  for (const path of paths) {
    const shape = path.replace(digits, "0");
    shapes.set(shape, [...(shapes.get(shape) ?? []), path]);
  }
  const several = [...shapes.values()].map((some) => patternFor(some) ?? escaped(some[0] ?? ""));
  return [
    ...(common === "" ? ["."] : [common]),
    ...(paths.length === 1 ? [first] : []),
    ...(pattern === undefined ? [] : [pattern]),
    ...(several.length > 1 ? [`{${several.join(",")}}`] : []),
  ];
}

/**
 * The `log` key of each unit that needs one, so that just its own logs are its; undefined where they are found by its
 * name. `fleet` has these units, in their order, without keys.
 */
export function logKeys(units: readonly UnitLogs[], fleet: Fleet): readonly (string | undefined)[] {
  const owner = ownershipOf(fleet);
  const all = units.flatMap(({ paths }) => paths);
  const byName = units.map(({ id, paths }) => {
    const own = new Set(paths);
    return all.every((path) => (owner(path)[0] === id) === own.has(path));
  });
  return units.map(({ paths }, i) => {
    if (byName[i]) return undefined;
    const own = new Set(paths);
    return keysFor(paths).find((key) => all.every((path) => takes(key, path, fleet) === own.has(path)));
  });
}

/** Whether a key takes a path, as the program itself decides it. */
function takes(log: string, path: string, fleet: Fleet): boolean {
  const [unit] = fleet.units;
  if (unit === undefined) return false;
  const alone: Unit = { ...unit, log };
  return ownershipOf({ ...fleet, units: [alone] })(path).length > 0;
}
