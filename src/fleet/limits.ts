import { z } from "zod";
import { type AlarmName, alarmNames } from "../terms/alarms.ts";
import { takes } from "./json-schema.ts";
import { nearest } from "./nearest.ts";
import { duration, quoted } from "./quantity.ts";
import { handOn, mapping, oneOf, shapeOf } from "./schema.ts";
import type { Unit } from "./unit.ts";

/** Each rule's own schema of its settings. */
export type RuleSettings = Readonly<Partial<Record<AlarmName, z.ZodType>>>;

/** Settings that any alarm takes, whether or not its rule's schema names them. */
const common: Readonly<Record<string, z.ZodType>> = {
  delay: duration(),
  off_delay: duration(),
  priority: oneOf(["high", "medium", "low"]),
  latched: z.boolean(),
};

/** The settings of one alarm that its rule's schema is to judge, without those only common to all. */
function own(schema: z.ZodType, settings: object): Record<string, unknown> {
  const shape = shapeOf(schema);
  const entries = Object.entries(settings);
  return Object.fromEntries(
    shape === undefined ? entries : entries.filter(([key]) => Object.hasOwn(shape, key)),
  );
}

/** Checks one alarm's settings and leaves them as written: the rule's schema reads them again at each unit. */
function settings(alarm: AlarmName, schema: z.ZodType | undefined) {
  const shape = shapeOf(schema) ?? {};
  const known = [...new Set([...Object.keys(shape), ...Object.keys(common)])];
  const checked = z.unknown().transform((value, context): Readonly<Record<string, unknown>> => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) {
      context.addIssue({
        code: "custom",
        message: `${quoted(value)} is not a mapping; write { delay: 30 s }`,
        input: value,
      });
      return z.NEVER;
    }
    for (const [key, setting] of Object.entries(value)) {
      if (!known.includes(key)) {
        context.addIssue({
          code: "custom",
          path: [key],
          message: `${alarm} has no such setting; the nearest is ${nearest(key, known)}`,
          input: setting,
        });
      } else if (!Object.hasOwn(shape, key)) {
        const judge = common[key];
        if (judge !== undefined) handOn(mapping({ [key]: judge }), { [key]: setting }, context);
      }
    }
    if (schema !== undefined) handOn(schema, own(schema, value), context);
    return { ...value };
  });
  return takes(checked, () =>
    z.strictObject(
      Object.fromEntries(known.map((key) => [key, ((shape[key] ?? common[key]) as z.ZodType).optional()])),
    ),
  );
}

/** Schema of a unit's `limits`: settings by alarm, each checked by its rule's schema. */
export function limits(ruleSettings: RuleSettings): z.ZodType<Unit["limits"]> {
  return mapping(
    Object.fromEntries(alarmNames.map((alarm) => [alarm, settings(alarm, ruleSettings[alarm]).optional()])),
  ) as z.ZodType<Unit["limits"]>;
}

/** What stands for the limits of a unit that names none. */
const noLimits = {};
/** By schema, then by what it was given: units mostly share both. */
const parsed = new WeakMap<z.ZodType, WeakMap<object, unknown>>();

/** A rule's settings at a unit: the fleet file's, over the rule's own defaults. Throws where they were not checked. */
export function settingsAt<Settings>(unit: Unit, alarm: AlarmName, schema: z.ZodType<Settings>): Settings {
  const given = unit.limits[alarm] ?? noLimits;
  const known = parsed.get(schema) ?? new WeakMap<object, unknown>();
  parsed.set(schema, known);
  const settings = (known.get(given) ?? schema.parse(own(schema, given))) as Settings;
  known.set(given, settings as object);
  return settings;
}
