import type { Likeness } from "./column-values.ts";
import type { Guess } from "./guess.ts";
import type { Said } from "./header-words.ts";

/**
 * Suction pressure that reads positive while the pump runs is a vacuum without its sign, or water above the pump:
 * where header and unit do not say which, a person must.
 */
export function placeSuction(guess: Guess, { places }: Said, { middle }: Likeness): Guess {
  const { placed, header } = guess;
  if (placed?.channel !== "suction_pressure" || middle <= 0) return guess;
  const vacuum = { ...placed.source, vacuum: true };
  const byUnit = /^(?:in|mm)hg$/i.test(placed.source.unit?.replace(/\s/g, "") ?? "");
  if (byUnit || /vac/i.test(header)) {
    const by = byUnit ? "unit" : "header";
    return {
      ...guess,
      placed: { channel: "suction_pressure", source: vacuum },
      recognised: false,
      why: `${guess.why}; a vacuum by its ${by}, written positive`,
    };
  }
  return {
    header,
    recognised: false,
    why: `positive while the pump runs${places.length > 0 ? "" : ", on the suction side"}: a person must say what it is`,
    unsure: true,
    choices: [
      { channel: "suction_pressure", source: vacuum, when: "a vacuum written as a positive number" },
      { channel: "suction_pressure", source: placed.source, when: "water stands above the pump" },
    ],
  };
}
