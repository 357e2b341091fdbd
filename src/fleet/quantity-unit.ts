import { z } from "zod";
import type { StoredUnit } from "./units.ts";

const units = new WeakMap<object, StoredUnit>();

/** The same schema, known to read quantities of a stored unit: what a reading by itself does not tell. */
export function inUnit<Schema extends object>(schema: Schema, unit: StoredUnit): Schema {
  units.set(schema, unit);
  return schema;
}

/** Stored unit of the quantities that a schema reads, also where they may be left out; undefined where it reads none. */
export function unitRead(schema: z.core.$ZodType | undefined): StoredUnit | undefined {
  if (schema === undefined) return undefined;
  const inner =
    schema instanceof z.ZodOptional || schema instanceof z.ZodDefault || schema instanceof z.ZodPrefault
      ? (schema.unwrap() as z.ZodType)
      : undefined;
  // A schema that was only told more of is a copy, which knows what it was copied from.
  return units.get(schema) ?? unitRead(inner) ?? unitRead(schema._zod.parent);
}
