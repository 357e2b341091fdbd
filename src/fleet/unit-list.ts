import type { RuleSettings } from "./limits.ts";
import { has, isMapping, merged } from "./merge.ts";
import { check, type Problem } from "./problems.ts";
import { quoted } from "./quantity.ts";
import type { Unit } from "./unit.ts";
import { defaultsSchema, unitSchema } from "./unit-schema.ts";
import type { Path, YamlSource } from "./yaml-source.ts";

/** Takes down a problem of the fleet file. */
export type Note = (problem: Problem) => void;

/** The list of units as written; an id that is taken already is told with the line of the first. */
export function writtenUnits(list: unknown, yaml: YamlSource, note: Note): readonly unknown[] {
  if (list === undefined || list === null || (Array.isArray(list) && list.length === 0)) {
    note({
      path: ["units"],
      problem: "no unit is written; write a list with an id for each, such as - id: LM-01",
    });
    return [];
  }
  if (!Array.isArray(list)) {
    const problem = `${quoted(list)} is not a list; write a line with - for each unit, such as - id: LM-01`;
    note({ path: ["units"], problem });
    return [];
  }
  const seen = new Map<string, { id: string; line: number }>();
  list.forEach((unit: unknown, index) => {
    if (!isMapping(unit) || typeof unit.id !== "string") return;
    const path = ["units", index, "id"];
    // File systems may take capitals, and the two ways to write an accented letter, for the same name.
    const folded = unit.id.trim().normalize("NFC").toLowerCase();
    const first = seen.get(folded);
    if (first === undefined) {
      seen.set(folded, { id: unit.id, line: yaml.placeOf(path).line });
      return;
    }
    const clash =
      first.id === unit.id
        ? `${quoted(unit.id)} is the unit on line ${first.line} already`
        : `${quoted(unit.id)} differs from ${quoted(first.id)} on line ${first.line} only in capitals`;
    note({ path, problem: `${clash}; write another id` });
  });
  return list;
}

/** The ids written, whatever else is wrong with their units. */
export function idsOf(written: readonly unknown[]): ReadonlySet<string> {
  return new Set(
    written.flatMap((unit) => (isMapping(unit) && typeof unit.id === "string" ? [unit.id.trim()] : [])),
  );
}

/** Every unit laid over the defaults; a problem is told where the value is written, once. */
export function unitsOverDefaults(
  written: readonly unknown[],
  defaults: unknown,
  ruleSettings: RuleSettings,
  note: Note,
): readonly Unit[] {
  const inDefaults = ({ path, problem }: Problem): Problem => ({ path: ["defaults", ...path], problem });
  // A default may be half of something (a baseline's length): what is missing there is no problem yet.
  for (const found of check(defaultsSchema(ruleSettings), defaults).problems) {
    if (has(defaults, found.path)) note(inDefaults(found));
  }
  const schema = unitSchema(ruleSettings);
  return written.flatMap((unit, index) => {
    const { value, problems } = check(schema, merged(defaults, unit));
    for (const found of problems) {
      const here = (path: Path) => has(unit, path) || !has(defaults, path);
      note(here(found.path) ? { ...found, path: ["units", index, ...found.path] } : inDefaults(found));
    }
    return value ?? [];
  });
}
