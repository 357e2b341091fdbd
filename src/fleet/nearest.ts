import { closest } from "fastest-levenshtein";

/** The one of `known` that takes the fewest changed letters to reach from `text`, capitals aside. */
export function nearest(text: string, known: readonly string[]): string {
  const lower = text.slice(0, 100).toLowerCase();
  const found = closest(
    lower,
    known.map((name) => name.toLowerCase()),
  );
  return known.find((name) => name.toLowerCase() === found) ?? found;
}
