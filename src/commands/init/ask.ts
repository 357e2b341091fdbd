import { createInterface } from "node:readline/promises";
import { visible } from "../../terms/text.ts";
import type { Choice, Guess } from "./guess.ts";
import type { SeenUnit } from "./look.ts";
import { isOpenSuction } from "./suction.ts";

/** Asks a person which of a column's choices is right; undefined where it stays open. */
export type Ask = (question: string, choices: readonly Choice[]) => Promise<Choice | undefined>;

/** Asks on the terminal; closing the input leaves it open. */
export const askOnTerminal: Ask = async (question, choices) => {
  const lines = createInterface({ input: process.stdin, output: process.stdout });
  const closed = new Promise<string>((resolve) => lines.once("close", () => resolve("")));
  const list = choices.map(({ when }, i) => `  ${i + 1}  ${when}`).join("\n");
  const asked = lines.question(`${question}\n${list}\nWhich? A number, or Enter to leave it open: `);
  const answer = await Promise.race([asked, closed]);
  lines.close();
  return choices[Number(answer) - 1];
};

/** A choice, and whether it holds for the units that are still to be asked for as well. */
type Answer = Choice & { readonly everywhere?: true };

/** The choices of one unit, and each of them again for the others of the same header that are open too. */
function answersFor({ choices }: Guess, others: readonly SeenUnit[]): readonly Answer[] {
  if (others.length === 0) return choices;
  const names = others.map(({ id }) => visible(id));
  const also = names.length > 3 ? `the ${names.length} others` : names.join(", ");
  const everywhere = choices.map(
    (choice): Answer => ({ ...choice, when: `${choice.when}, and so at ${also}`, everywhere: true }),
  );
  return [...choices, ...everywhere];
}

const answered = (guess: Guess, choice: Choice): Guess => {
  const { channel, source } = choice;
  const when = guess.choices.find((one) => one.source.vacuum === source.vacuum)?.when ?? choice.when;
  return { ...guess, placed: { channel, source }, choices: [], unsure: false, why: `${when}, as told` };
};

/** Suction pressures that a person has told what they are, at each unit whose own are positive. */
export async function withAnswers(units: readonly SeenUnit[], ask: Ask): Promise<readonly SeenUnit[]> {
  const everywhere = new Map<string, Choice>();
  const result: SeenUnit[] = [];
  for (const [i, unit] of units.entries()) {
    const guesses: Guess[] = [];
    for (const guess of unit.guesses) {
      const { header } = guess;
      if (!isOpenSuction(guess)) {
        guesses.push(guess);
        continue;
      }
      const others = units
        .slice(i + 1)
        .filter((other) => other.guesses.some((one) => one.header === header && isOpenSuction(one)));
      const answers = answersFor(guess, others);
      const answer =
        everywhere.get(header) ??
        (await ask(`'${visible(header)}' of ${visible(unit.id)}: ${guess.why}.`, answers));
      if (answers.some((one) => one === answer && one.everywhere) && answer) everywhere.set(header, answer);
      guesses.push(answer === undefined ? guess : answered(guess, answer));
    }
    result.push({ ...unit, guesses });
  }
  return result;
}
