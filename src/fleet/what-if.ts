import { parse } from "yaml";
import type { RuleSettings } from "./limits.ts";
import { merged } from "./merge.ts";
import { nearest } from "./nearest.ts";
import { check, pathText } from "./problems.ts";
import { quoted } from "./quantity.ts";
import { keyPaths } from "./schema.ts";
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

/**
 * Keys of a unit, each written `suction_lift=7 ft` or `piping.suction_lift=7 ft`, as a mapping to lay over it; or the
 * first problem in one line.
 */
export function parseChanges(
  assignments: readonly string[],
  ruleSettings: RuleSettings,
): { readonly over: unknown } | { readonly problem: string } {
  const schema = defaultsSchema(ruleSettings);
  const paths = keyPaths(schema);
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
    const change = path.reduceRight<unknown>((inner, name) => ({ [name]: inner }), written(text));
    const [wrong] = check(schema, change).problems;
    if (wrong !== undefined) return { problem: `${pathText(wrong.path)}: ${wrong.problem}` };
    over = merged(over, change);
  }
  return { over };
}
