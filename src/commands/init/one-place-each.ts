import type { Channel } from "../../terms/channels.ts";
import { type Guess, left } from "./guess.ts";
import { wordsOf } from "./header-words.ts";

/** A header without what tells one of several alike from the next: numbers, axes, phases. */
function alike(header: string): string {
  return wordsOf(header)
    .filter((word) => word.length > 1 && !/^(?:l?\d+|rms)$/.test(word))
    .join(" ");
}

/**
 * Several columns of one channel stay together where their headers differ in a number or an axis only, or where they
 * are accelerometers; else the first is taken, and the others are left to a person.
 */
export function onePlaceEach(guesses: readonly Guess[]): readonly Guess[] {
  const firsts = new Map<Channel, Guess>();
  const headers = new Set<string>();
  return guesses.map((guess) => {
    const { placed, header } = guess;
    if (placed === undefined) return guess;
    const key = header.trim().toLowerCase();
    if (headers.has(key)) return left(header, "a second column of this name");
    headers.add(key);
    const first = firsts.get(placed.channel);
    if (first === undefined) {
      firsts.set(placed.channel, guess);
      return guess;
    }
    if (placed.channel === "vibration" || alike(first.header) === alike(header)) return guess;
    return left(header, `${placed.channel} is taken from '${first.header}' already`, [
      { ...placed, when: "instead of that" },
    ]);
  });
}
