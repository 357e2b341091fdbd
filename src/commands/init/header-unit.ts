import { type StoredUnit, toStored } from "../../fleet/units.ts";
import { bracketed, type Kind } from "./header-words.ts";

const storedOf: Readonly<Record<Kind, StoredUnit>> = {
  current: "A",
  temperature: "°C",
  pressure: "kPa",
  flow: "L/min",
  voltage: "V",
  power: "W",
  vibration: "g",
  level: "m",
  ozone: "ppm",
  run: "",
};

/** The unit as the fleet file takes it: loggers write `°C`, `deg C`, `Bar`, `m³/h`. */
const plain = (text: string): string => text.trim().replace(/\s+/g, " ");

/** The last words of a header, longest first: `deg F`, `F`; `L/min`. */
function endsOf(header: string): readonly string[] {
  const text = header.trim();
  const camel = /[a-z0-9]([A-Z][A-Za-z0-9]*)$/.exec(text)?.[1];
  const parts = text.split(/[\s_,;:\-.]+/);
  const whole = text.split(/[\s_]+/);
  return [
    ...(parts.length > 2 ? [parts.slice(-2).join(" ")] : []),
    ...(whole.length > 1 ? [whole.at(-1) ?? ""] : []),
    ...(parts.length > 1 ? [parts.at(-1) ?? ""] : []),
    ...(camel === undefined ? [] : [camel]),
  ];
}

/** What a header says of its unit: one of its kind, the signal of a loop, or one that no channel is read in. */
export type HeaderUnit =
  | { readonly is: "unit"; readonly unit: string }
  | { readonly is: "loop" }
  | { readonly is: "unknown"; readonly unit: string }
  | { readonly is: "unsaid" };

export function unitIn(header: string, kind: Kind): HeaderUnit {
  const inBrackets = bracketed(header);
  const candidates = inBrackets === undefined ? endsOf(header) : [inBrackets];
  const stored = storedOf[kind];
  for (const candidate of candidates) {
    if (toStored(candidate, stored) !== undefined) return { is: "unit", unit: plain(candidate) };
  }
  if (candidates.some((candidate) => /^(?:4\s*-\s*20\s*)?mA$/i.test(candidate.trim()))) return { is: "loop" };
  if (inBrackets !== undefined && /\p{L}|%/u.test(inBrackets)) return { is: "unknown", unit: inBrackets };
  const velocity = /(?:mm|in|cm)[/_ ]?s$/i.exec(header.trim())?.[0];
  return kind === "vibration" && velocity !== undefined
    ? { is: "unknown", unit: velocity }
    : { is: "unsaid" };
}

/** The kind that a unit alone tells, where a header has no word for it. */
export function kindByUnit(header: string): Kind | undefined {
  const inBrackets = bracketed(header);
  const candidates = (inBrackets === undefined ? endsOf(header) : [inBrackets]).filter(
    // One letter is as likely a place, a phase or an axis.
    (candidate) => candidate.length > 1 || inBrackets !== undefined,
  );
  const kinds = ["temperature", "pressure", "flow", "current", "voltage", "power", "vibration"] as const;
  return kinds.find((kind) =>
    candidates.some((candidate) => {
      // A loop carries anything: what, its header must say in words.
      return !/^mA$/i.test(candidate.trim()) && toStored(candidate, storedOf[kind]) !== undefined;
    }),
  );
}

const american =
  /^(?:°?f|degf|fahrenheit|psig?|inhg|inh2o|fth2o|gpm|gph|gal\/min|cfm|cfh|ft|feet|foot|in|inch|inches|hp)$/;

/** Whether a unit is one of those that are written where people measure in feet and gallons. */
export function isAmerican(unit: string): boolean {
  return american.test(unit.replace(/\s+/g, "").toLowerCase());
}
