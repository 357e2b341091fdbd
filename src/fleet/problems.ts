import type { z } from "zod";
import { visible } from "../terms/text.ts";
import { meant, nearest } from "./nearest.ts";
import { quoted } from "./quantity.ts";
import { betweenKeys } from "./schema.ts";

export interface Problem {
  readonly path: readonly PropertyKey[];
  readonly problem: string;
}

/** A path as a person reads it: `units[3].motor.full_load_current`; odd names in quotes. */
export function pathText(path: readonly PropertyKey[]): string {
  let text = "";
  for (const key of path) {
    if (typeof key === "number") text += `[${key}]`;
    else if (/^[\w-]+$/.test(String(key))) text += text === "" ? String(key) : `.${String(key)}`;
    else text += `["${visible(String(key))}"]`;
  }
  return text;
}

const kindsOfValue: Readonly<Record<string, string>> = {
  boolean: "neither true nor false; write true or false",
  array: "not a list; write [ ] with commas between, or a line with - for each",
  object: "not a mapping; write key: value lines under it",
  record: "not a mapping; write key: value lines under it",
  string: "not text; write it in quotes",
  number: "not a number; write digits, such as 1.15",
};

function inWords(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return `${quoted(issue.input)} is ${kindsOfValue[issue.expected] ?? `not ${issue.expected}; write it so`}`;
    case "too_small":
      if (issue.origin === "array") return "the list is empty; write at least one";
      return `${quoted(issue.input)} is too small; write ${issue.inclusive ? "at least" : "more than"} ${issue.minimum}`;
    case "too_big":
      if (issue.origin === "array") return `the list is too long; write at most ${issue.maximum}`;
      return `${quoted(issue.input)} is too large; write ${issue.inclusive ? "at most" : "less than"} ${issue.maximum}`;
    case "invalid_value": {
      const words = issue.values.map(String);
      return `${quoted(issue.input)} is not one of ${words.join(", ")}${meant(issue.input, words)}`;
    }
    default:
      return visible(issue.message);
  }
}

function problemsOf(error: z.ZodError): readonly Problem[] {
  return error.issues.flatMap((issue): readonly Problem[] => {
    const { path } = issue;
    if (issue.code !== "unrecognized_keys") return [{ path, problem: inWords(issue) }];
    const known = issue.message.split(betweenKeys);
    return issue.keys.map((key) => ({
      path: [...path, key],
      problem: /^\d+ ?\D*$/.test(key)
        ? `${quoted(key)} is no key; inside { } a number takes a decimal point, such as 9.8 A`
        : `this key is not known; the nearest is ${nearest(key, known)}`,
    }));
  });
}

/** What `schema` makes of `data`, or every problem in it with its path and in words for people. */
export function check<T>(
  schema: z.ZodType<T>,
  data: unknown,
):
  | { readonly value: T; readonly problems: readonly [] }
  | { readonly value?: undefined; readonly problems: readonly Problem[] } {
  const result = schema.safeParse(data, { reportInput: true });
  return result.success ? { value: result.data, problems: [] } : { problems: problemsOf(result.error) };
}
