import { z } from "zod";
import { parseInstant } from "./instant.ts";
import { takes } from "./json-schema.ts";
import { meant } from "./nearest.ts";
import { quoted } from "./quantity.ts";

/** Between the known keys in the message of an `unrecognized_keys` issue: see `problemsOf`. */
export const betweenKeys = "\n";

/** A mapping with these keys and no others; nothing at all stands for an empty one. */
export function mapping<Shape extends z.ZodRawShape>(shape: Shape) {
  const known = Object.keys(shape).join(betweenKeys);
  return z.preprocess(
    (value) => value ?? {},
    z.strictObject(shape, { error: (issue) => (issue.code === "unrecognized_keys" ? known : undefined) }),
  );
}

/** The keys that a schema made of mappings takes; undefined where it is none. */
export function shapeOf(schema: z.ZodType | undefined): Readonly<Record<string, z.ZodType>> | undefined {
  if (schema instanceof z.ZodObject) return schema.shape as Record<string, z.ZodType>;
  if (schema instanceof z.ZodPipe) return shapeOf(schema.in as z.ZodType) ?? shapeOf(schema.out as z.ZodType);
  if (
    schema instanceof z.ZodDefault ||
    schema instanceof z.ZodPrefault ||
    schema instanceof z.ZodReadonly ||
    schema instanceof z.ZodOptional
  ) {
    return shapeOf(schema.unwrap() as z.ZodType);
  }
  return undefined;
}

/** Paths of all keys of a schema made of mappings, and of theirs. */
export function keyPaths(schema: z.ZodType): readonly (readonly string[])[] {
  return Object.entries(shapeOf(schema) ?? {}).flatMap(([key, inner]) => [
    [key],
    ...keyPaths(inner).map((path) => [key, ...path]),
  ]);
}

/** The schema of a key that lies at `path` in a schema made of mappings; undefined where there is none. */
export function schemaAt(schema: z.ZodType, path: readonly string[]): z.ZodType | undefined {
  return path.reduce<z.ZodType | undefined>((at, key) => shapeOf(at)?.[key], schema);
}

/** Passes `value` on to `schema`, whose problems become the context's own. */
export function handOn<T>(schema: z.ZodType<T>, value: unknown, context: z.RefinementCtx): T {
  const result = schema.safeParse(value, { reportInput: true });
  if (result.success) return result.data;
  for (const issue of result.error.issues)
    context.issues.push({ ...issue, input: issue.input } as z.core.$ZodRawIssue);
  return z.NEVER;
}

/** Text that `read` understands, as what it makes of it; else the problem it names. */
export function understood<T>(
  read: (text: string) => T | undefined,
  what: string,
  write: string,
): z.ZodType<T> {
  const schema = z.unknown().transform((value, context) => {
    const result = typeof value === "string" ? read(value.trim()) : undefined;
    if (result !== undefined) return result;
    context.addIssue({
      code: "custom",
      message: `${quoted(value)} is not ${what}; write ${write}`,
      input: value,
    });
    return z.NEVER;
  });
  return takes(schema, () => z.string());
}

/** One of a few words. */
export function oneOf<const Words extends readonly string[]>(words: Words): z.ZodType<Words[number]> {
  const schema = z.unknown().transform((value, context) => {
    const word = words.find((known) => known === value);
    if (word !== undefined) return word;
    context.addIssue({
      code: "custom",
      message: `${quoted(value)} is not one of ${words.join(", ")}${meant(value, words)}`,
      input: value,
    });
    return z.NEVER;
  });
  return takes(schema, () => z.enum(words));
}

/** Some keys take digits for the text that they are: see `yaml-source.ts`. */
export const textOrDigits = () => z.union([z.string(), z.number()]);

/** Text of at least one character, on one line. */
export function text(example: string): z.ZodType<string> {
  const line = understood(
    (written) => (written === "" || written.includes("\n") ? undefined : written),
    "a line of text",
    example,
  );
  return takes(line, textOrDigits);
}

/** A moment as RFC 3339 writes it, in ms. */
export function instant(): z.ZodType<number> {
  return understood(parseInstant, "a time with its offset", "2026-05-01T00:00:00Z");
}
