import { visible } from "../../terms/text.ts";
import type { Likeness } from "./column-values.ts";
import type { Guess } from "./guess.ts";
import type { Said } from "./header-words.ts";
import type { SeenUnit } from "./look.ts";

const inMercury = ({ placed }: Guess): boolean =>
  /^(?:in|mm)hg$/i.test(placed?.source.unit?.replace(/\s/g, "") ?? "");

/** Whether a column is the suction's, and the program does not know its sign by a header of its own. */
export const isPlacedSuction = (guess: Guess): boolean =>
  guess.placed?.channel === "suction_pressure" && !(guess.recognised && inMercury(guess));

/** Whether it is left open which sign a suction is written with. */
export const isOpenSuction = ({ placed, choices }: Guess): boolean =>
  placed === undefined &&
  choices.length > 1 &&
  choices.every(({ channel }) => channel === "suction_pressure");

/**
 * Suction pressure that reads positive while the pump runs is a vacuum without its sign, or water above the pump:
 * where header and unit do not say which, a person must.
 */
export function placeSuction(guess: Guess, { places, vacuum: isVacuum }: Said, { middle }: Likeness): Guess {
  const { placed, header } = guess;
  if (placed?.channel !== "suction_pressure" || middle <= 0) return guess;
  const vacuum = { ...placed.source, vacuum: true };
  const byUnit = inMercury(guess);
  if (byUnit || isVacuum) {
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

const mostNamed = 6;

function named(units: readonly SeenUnit[]): string {
  const more = units.length - mostNamed;
  const ids = units.slice(0, mostNamed).map(({ id }) => visible(id));
  return `${ids.join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}

/** A suction that is positive at some units and not at others of the same header. */
interface Apart {
  readonly header: string;
  readonly positive: readonly SeenUnit[];
  readonly others: readonly SeenUnit[];
}

function signsApart(units: readonly SeenUnit[]): readonly Apart[] {
  const open = units.flatMap(({ guesses }) => guesses.filter(isOpenSuction));
  return [...new Set(open.map(({ header }) => header))].flatMap((header) => {
    const at = (is: (guess: Guess) => boolean) =>
      units.filter(({ guesses }) => guesses.some((guess) => guess.header === header && is(guess)));
    const others = at(isPlacedSuction);
    return others.length === 0 ? [] : [{ header, positive: at(isOpenSuction), others }];
  });
}

/** Units whose suctions bear different signs under one header, each told of the others; and a line for each header. */
export function toldOfSigns(units: readonly SeenUnit[]): {
  readonly units: readonly SeenUnit[];
  readonly lines: readonly string[];
} {
  const apart = signsApart(units);
  const told = (guess: Guess): Guess => {
    const found = apart.find(({ header }) => header === guess.header);
    if (found === undefined) return guess;
    if (isOpenSuction(guess))
      return { ...guess, why: `${guess.why}; not positive at ${named(found.others)}` };
    const why = `${guess.why}; taken as it is written: positive only at ${named(found.positive)}`;
    return isPlacedSuction(guess) ? { ...guess, why } : guess;
  };
  return {
    units: units.map((unit) => ({ ...unit, guesses: unit.guesses.map(told) })),
    lines: apart.map(
      ({ header, positive, others }) =>
        `  '${visible(header)}' bears two signs: positive while the pump runs at ${named(positive)}, not at ${named(others)}; write vacuum: true only at the units that need it`,
    ),
  };
}
