import { z } from "zod";
import { fourDigits } from "../terms/number.ts";
import { visible } from "../terms/text.ts";
import { takes } from "./json-schema.ts";
import { inUnit } from "./quantity-unit.ts";
import { isUnit, type StoredUnit, toStored } from "./units.ts";

/** Bounds of a quantity, in its stored unit (a duration's in ms). */
export interface Bounds {
  readonly above?: number;
  readonly min?: number;
  readonly max?: number;
}

export type Parsed = { readonly value: number } | { readonly problem: string };

/** What a quantity in each stored unit is called, how one is written, and the unit to write it in. */
const kinds: Readonly<Record<StoredUnit, { name: string; example: string; write: string }>> = {
  A: { name: "a current", example: "9.8 A", write: "A" },
  "°C": { name: "a temperature", example: "60 degC", write: "degC" },
  K: { name: "a temperature difference", example: "15 K", write: "K" },
  kPa: { name: "a pressure", example: "80 kPa", write: "kPa" },
  "L/min": { name: "a flow", example: "110 L/min", write: "L/min" },
  V: { name: "a voltage", example: "115 V", write: "V" },
  W: { name: "a power", example: "750 W", write: "W" },
  g: { name: "an acceleration", example: "0.5 g", write: "g" },
  m: { name: "a length", example: "1.5 m", write: "m" },
  ppm: { name: "a concentration", example: "0.1 ppm", write: "ppm" },
  "mg/L": { name: "a concentration in water", example: "7.5 mg/L", write: "mg/L" },
  mL: { name: "a volume", example: "25 mL", write: "mL" },
  "%": { name: "a percentage", example: "20 %", write: "%" },
  "": { name: "a number", example: "1.15", write: "" },
  ms: { name: "a duration", example: "10 s", write: "s" },
};

const numberThenUnit = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)\s*(.*)$/i;
const decimalComma = /^([+-]?\d+),(\d{1,2}|\d{4,})(\D.*)?$/;

/** `value` as a person wrote it, quoted, on one line and not long. */
export function quoted(value: unknown): string {
  if (Array.isArray(value)) return "a list";
  if (value === null || value === undefined || value === "") return "nothing";
  if (typeof value === "object") return "a mapping";
  const text = visible(String(value));
  return `'${text.length > 40 ? `${text.slice(0, 39)}…` : text}'`;
}

/** A number in a stored unit as a fleet file writes it: `9.8 A`, `10 s`. */
function written(value: number, unit: StoredUnit): string {
  return unit === "ms" ? `${value / 1000} s` : `${value} ${kinds[unit].write}`.trim();
}

/** Units that people write beside the stored one: a bare number may be meant in any of them. */
const alsoWritten: Readonly<Partial<Record<StoredUnit, readonly string[]>>> = {
  m: ["ft"],
  kPa: ["psi", "inHg"],
  "°C": ["degF"],
  K: ["degF"],
  "L/min": ["gpm"],
  ms: ["min", "h"],
};

/** What may be meant by a number that lacks its unit: `7m`, `7ft`; undefined where it has one or needs none. */
export function unitsLacking(value: unknown, unit: StoredUnit): readonly string[] | undefined {
  if (unit === "" || (typeof value !== "number" && typeof value !== "string")) return undefined;
  const [, number, writtenUnit] = numberThenUnit.exec(String(value).trim()) ?? [];
  if (number === undefined || writtenUnit !== "") return undefined;
  return [kinds[unit].write, ...(alsoWritten[unit] ?? [])].map((spelling) => `${number}${spelling}`);
}

/** As `unitsLacking`, of quantities alone that people write in more units than one: `7` may be kPa or psi. */
export function unitsMeant(value: unknown, unit: StoredUnit): readonly string[] | undefined {
  return alsoWritten[unit] === undefined ? undefined : unitsLacking(value, unit);
}

/** A quantity as it is stored, to four digits: `2.134 m`; undefined where it is none. */
export function storedText(value: unknown, unit: StoredUnit): string | undefined {
  const parsed = convert(value, unit);
  return "problem" in parsed ? undefined : written(fourDigits(parsed.value), unit);
}

function suggestion(text: string, unit: StoredUnit): string {
  const comma = decimalComma.exec(text);
  if (comma === null) return kinds[unit].example;
  const rest = (comma[3] ?? "").trim();
  return `${comma[1]}.${comma[2]} ${toStored(rest, unit) === undefined ? kinds[unit].write : rest}`.trim();
}

function notThis(value: unknown, unit: StoredUnit): Parsed {
  const what = unit === "ms" || unit === "" ? kinds[unit].name : "a quantity";
  const write = typeof value === "string" ? suggestion(value.trim(), unit) : kinds[unit].example;
  return { problem: `${quoted(value)} is not ${what}; write ${write}` };
}

function convert(value: unknown, unit: StoredUnit): Parsed {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) return notThis(value, unit);
    return { value: unit === "ms" ? value * 1000 : value };
  }
  if (typeof value !== "string") return notThis(value, unit);
  const match = numberThenUnit.exec(value.trim());
  if (match === null) return notThis(value, unit);
  const number = Number(match[1]);
  const writtenUnit = match[2] ?? "";
  if (!Number.isFinite(number)) return notThis(value, unit);
  if (writtenUnit === "") return convert(number, unit);
  const conversion = toStored(writtenUnit, unit);
  if (conversion !== undefined) return { value: number * conversion.factor + conversion.offset };
  if (unit === "ms" && /^m$/i.test(writtenUnit)) {
    return { problem: `${quoted(value)} is not a duration; write ${match[1]} min` };
  }
  if (isUnit(writtenUnit)) {
    return { problem: `${quoted(value)} is not ${kinds[unit].name}; write ${kinds[unit].example}` };
  }
  if (unit === "" || /^[\d,.]/.test(writtenUnit)) return notThis(value, unit);
  return {
    problem: `${quoted(value)} has the unknown unit ${quoted(writtenUnit)}; write ${kinds[unit].example}`,
  };
}

function within(value: unknown, unit: StoredUnit, bounds: Bounds): Parsed {
  const parsed = convert(value, unit);
  if ("problem" in parsed) return parsed;
  const { above, min, max } = bounds;
  if (above !== undefined && parsed.value <= above) {
    return { problem: `${quoted(value)} is too small; write more than ${written(above, unit)}` };
  }
  if (min !== undefined && parsed.value < min) {
    return { problem: `${quoted(value)} is too small; write ${written(min, unit)} or more` };
  }
  if (max !== undefined && parsed.value > max) {
    return { problem: `${quoted(value)} is too large; write ${written(max, unit)} or less` };
  }
  return parsed;
}

/**
 * A quantity as a person writes it (`9.8 A`, `6 ft`, `130 degF`, or a bare number in the stored unit),
 * in the stored unit; or one sentence saying what to write instead. In `ms` a bare number is seconds.
 */
export function parseQuantity(text: string, unit: StoredUnit, bounds: Bounds = {}): Parsed {
  return within(text, unit, bounds);
}

/**
 * Schema of a quantity: takes a number in the stored unit or text with a unit, gives a number in the
 * stored unit. A temperature difference is `quantity("K")`. `bounds` are in the stored unit.
 */
export function quantity(unit: StoredUnit, bounds: Bounds = {}): z.ZodType<number> {
  const read = z.unknown().transform((value, context) => {
    const parsed = within(value, unit, bounds);
    if ("value" in parsed) return parsed.value;
    context.addIssue({ code: "custom", message: parsed.problem, input: value });
    return z.NEVER;
  });
  return inUnit(
    takes(read, () => z.union([z.number(), z.string()])),
    unit,
  );
}

/** Schema of a length of time: takes `10 s`, `5 min`, `2 h`, `30 d` or a number of seconds, gives ms. */
export function duration(bounds: Bounds = { min: 0 }): z.ZodType<number> {
  return quantity("ms", bounds);
}
