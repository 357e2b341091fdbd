import { closest, distance } from "fastest-levenshtein";

/** The only one of `known` that begins with `text`, else takes the fewest changed letters to reach from it, capitals aside. */
export function nearest(text: string, known: readonly string[]): string {
  const lower = text.slice(0, 100).toLowerCase();
  const [begun, another] = known.filter((name) => name.toLowerCase().startsWith(lower));
  if (begun !== undefined && another === undefined) return begun;
  const found = closest(
    lower,
    known.map((name) => name.toLowerCase()),
  );
  return known.find((name) => name.toLowerCase() === found) ?? found;
}

/** What to write instead of `text`: the one of `known` that is plainly meant, else any of them. */
export function oneOfThese(text: string, known: readonly string[]): string {
  return meant(text, known) || `; write ${[known.slice(0, -1).join(", "), known.at(-1)].join(" or ")}`;
}

/** `; write fitted` where one of `words` is plainly meant; else nothing, so that no wrong one is advised. */
export function meant(value: unknown, words: readonly string[]): string {
  if (typeof value !== "string") return "";
  const begun = words.find((known) => value.length > 2 && known.startsWith(value.toLowerCase()));
  const word = begun ?? nearest(value, words);
  return begun || distance(value.toLowerCase(), word.toLowerCase()) <= Math.max(1, word.length / 3)
    ? `; write ${word}`
    : "";
}
