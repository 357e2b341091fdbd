import { parse } from "yaml";
import type { RuleSettings } from "./limits.ts";
import { merged } from "./merge.ts";
import { nearest } from "./nearest.ts";
import { check, pathText } from "./problems.ts";
import { quoted, storedText, unitsLacking } from "./quantity.ts";
import { unitRead } from "./quantity-unit.ts";
import { keyPaths, schemaAt } from "./schema.ts";
import { withSign } from "./suction-gauge.ts";
import { defaultsSchema } from "./unit-schema.ts";

const assignmentShape = /^\s*([^=\s]+)\s*=\s*(.+?)\s*$/s;
/** Their keys repeat those of the skid itself, so that they are written in full. */
const inFull = ["limits", "columns", "commissioning"];

/** A value as the fleet file would have it: `7ft`, `true`, `{ elbow: 3 }`. */
function written(text: string): unknown {
  try {
    return parse(text);
  } catch {
    return text;
  }
}

/** The keys that are written so, from the unit's own or from any mapping in it, that lie least deep. */
function pathsMeant(key: string, paths: readonly (readonly string[])[]): readonly (readonly string[])[] {
  const named = paths.filter(
    (path) =>
      path.join(".") === key || (path.join(".").endsWith(`.${key}`) && !inFull.includes(path[0] ?? "")),
  );
  const depth = Math.min(...named.map(({ length }) => length));
  return named.filter(({ length }) => length === depth);
}

/** Every key that may be tried, as short as it may be written; those that are written in full left out. */
export function triedKeys(ruleSettings: RuleSettings): readonly string[] {
  const paths = keyPaths(defaultsSchema(ruleSettings)).filter(([first = ""]) => !inFull.includes(first));
  const leaves = paths.filter(
    (path) => !paths.some((other) => other.length > path.length && path.every((key, i) => key === other[i])),
  );
  return leaves.map((path) => {
    const last = path.at(-1) ?? "";
    return pathsMeant(last, paths).length === 1 && pathsMeant(last, paths)[0] === path
      ? last
      : path.join(".");
  });
}

/** One key with its value. */
interface Leaf {
  readonly path: readonly string[];
  readonly value: unknown;
}

/** The keys that a value sets: of a mapping those in it. */
function leavesOf(path: readonly string[], value: unknown): readonly Leaf[] {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return [{ path, value }];
  return Object.entries(value).flatMap(([key, inner]) => leavesOf([...path, key], inner));
}

const signed = ({ path, value }: Leaf): unknown =>
  typeof value === "string" ? withSign(path.at(-1) ?? "", value) : value;

/** A key that is tried, as written, and where it is a quantity as it is stored. */
export interface Tried {
  readonly key: string;
  readonly written: string;
  readonly stored: string | null;
}

/** Keys of a unit to lay over it, and what was understood of each. */
export interface Changes {
  readonly over: unknown;
  readonly tried: readonly Tried[];
}

/**
 * Keys of a unit, each written `suction_lift=7 ft` or `piping.suction_lift=7 ft`; or the first problem in one line. A
 * quantity bears its unit: a bare number that was meant in feet would be taken as metres.
 */
export function parseChanges(
  assignments: readonly string[],
  ruleSettings: RuleSettings,
): Changes | { readonly problem: string } {
  const schema = defaultsSchema(ruleSettings);
  const paths = keyPaths(schema);
  const tried: Tried[] = [];
  let over: unknown = {};
  for (const assignment of assignments) {
    const [, key, text] = assignmentShape.exec(assignment) ?? [];
    if (key === undefined || text === undefined) {
      return {
        problem: `${quoted(assignment)} is no key with a value; write KEY=VALUE, such as suction_lift=7ft`,
      };
    }
    const meant = pathsMeant(key, paths);
    const [path, other] = meant;
    if (path === undefined) {
      const known = paths.map((one) => (key.includes(".") ? one.join(".") : (one.at(-1) ?? "")));
      return { problem: `${quoted(key)} is no key of a unit; the nearest is ${nearest(key, known)}` };
    }
    if (other !== undefined) {
      const both = meant.map((one) => one.join(".")).join(" or ");
      return { problem: `${quoted(key)} is a key of several mappings; write ${both}` };
    }
    const value = written(text);
    const change = path.reduceRight<unknown>((inner, name) => ({ [name]: inner }), value);
    const [wrong] = check(schema, change).problems;
    if (wrong !== undefined) return { problem: `${pathText(wrong.path)}: ${wrong.problem}` };
    for (const leaf of leavesOf(path, value)) {
      const unit = unitRead(schemaAt(schema, leaf.path)) ?? "";
      const lacking = unitsLacking(leaf.value, unit);
      if (lacking !== undefined) {
        const write = lacking.map((quantity) => `${leaf.path.at(-1)}=${quantity}`).join(" or ");
        return { problem: `${pathText(leaf.path)}: ${quoted(leaf.value)} has no unit; write ${write}` };
      }
      tried.push({
        key: pathText(leaf.path),
        written: Array.isArray(leaf.value) ? text : String(leaf.value),
        stored: unit === "" ? null : (storedText(signed(leaf), unit) ?? null),
      });
    }
    over = merged(over, change);
  }
  return { over, tried };
}
