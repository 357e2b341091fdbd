import { day, hour } from "../terms/time.ts";
import { type Span, span } from "./line.ts";

/** The lengths of time that a person may choose for the alarm history, the shortest first. */
export const periods = [
  { words: "8 h", ms: 8 * hour },
  { words: "24 h", ms: day },
  { words: "7 d", ms: 7 * day },
  { words: "30 d", ms: 30 * day },
  { words: "90 d", ms: 90 * day },
  { words: "400 d", ms: 400 * day },
] as const;

/** Lengths of time to choose from, the chosen one in brackets as well as reversed. */
export function periodChoice(from: readonly { readonly words: string }[], chosen: number): readonly Span[] {
  return from.map(({ words }, at) => (at === chosen ? span(`[${words}]`, "selected") : span(` ${words} `)));
}
