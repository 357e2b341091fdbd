import { z } from "zod";

/** What a schema that reads a value by itself may be given, by that schema. */
const given = new WeakMap<object, () => z.ZodType>();

/** The same schema, known to take what `as` takes: what a reading by itself does not tell. */
export function takes<Schema extends object>(schema: Schema, as: () => z.ZodType): Schema {
  given.set(schema, as);
  return schema;
}

/** A schema that was only told more of is a copy, which knows what it was copied from. */
function takenBy(schema: z.core.$ZodType | undefined): (() => z.ZodType) | undefined {
  return schema === undefined ? undefined : (given.get(schema) ?? takenBy(schema._zod.parent));
}

/** A key's schema with what the key is for, and a value as a fleet file writes it. */
export function told<Schema extends z.ZodType>(
  schema: Schema,
  description: string,
  example?: unknown,
): Schema {
  return schema.meta({ description, ...(example !== undefined && { examples: [example] }) });
}

/**
 * What a schema takes, as JSON Schema 2020-12: for editors. Bounds and units are not in it; a mapping with nothing
 * in it must be left out there.
 */
export function jsonSchema(schema: z.ZodType): Record<string, unknown> {
  const { $schema, ...shown } = z.toJSONSchema(schema, {
    io: "input",
    unrepresentable: "any",
    override({ zodSchema, jsonSchema: target }) {
      const as = takenBy(zodSchema as unknown as z.core.$ZodType);
      if (as !== undefined) Object.assign(target, { ...jsonSchema(as()), ...target });
      if (zodSchema instanceof z.ZodObject) {
        const required = Object.entries(zodSchema.shape).filter(
          ([, key]) => !(key as z.ZodType).safeParse(undefined).success,
        );
        delete target.required;
        if (required.length > 0) target.required = required.map(([name]) => name);
      }
      // The library leaves examples out where a value is read into something else.
      const examples = z.globalRegistry.get(zodSchema as unknown as z.core.$ZodType)?.examples;
      if (Array.isArray(examples)) target.examples = examples as (typeof target)["examples"];
    },
  });
  return shown;
}

/** One key of a mapping: its name, what it is for, and an example where one was told. */
export interface KeyTold {
  readonly name: string;
  readonly description: string;
  readonly example?: unknown;
}

/** The keys of a mapping's schema that were told of, in their order. */
export function keysOf(schema: z.ZodType): readonly KeyTold[] {
  const { properties = {} } = jsonSchema(schema) as { properties?: Record<string, Record<string, unknown>> };
  return Object.entries(properties).flatMap(([name, { description, examples }]) =>
    typeof description !== "string"
      ? []
      : [{ name, description, ...(Array.isArray(examples) && { example: examples[0] as unknown }) }],
  );
}
