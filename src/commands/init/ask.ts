import { createInterface } from "node:readline/promises";
import { visible } from "../../terms/text.ts";
import type { Choice, Guess } from "./guess.ts";
import type { SeenUnit } from "./look.ts";

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

const isOpenSuction = ({ placed, choices }: Guess): boolean =>
  placed === undefined &&
  choices.length > 1 &&
  choices.every(({ channel }) => channel === "suction_pressure");

/** Suction pressures that a person has told what they are, each header asked for once. */
export async function withAnswers(units: readonly SeenUnit[], ask: Ask): Promise<readonly SeenUnit[]> {
  const answers = new Map<string, Choice | undefined>();
  const answered: SeenUnit[] = [];
  for (const unit of units) {
    const guesses: Guess[] = [];
    for (const guess of unit.guesses) {
      const { header } = guess;
      if (isOpenSuction(guess) && !answers.has(header)) {
        answers.set(
          header,
          await ask(`'${visible(header)}' of ${visible(unit.id)}: ${guess.why}.`, guess.choices),
        );
      }
      const choice = isOpenSuction(guess) ? answers.get(header) : undefined;
      guesses.push(
        choice === undefined
          ? guess
          : { ...guess, placed: choice, choices: [], unsure: false, why: `${choice.when}, as told` },
      );
    }
    answered.push({ ...unit, guesses });
  }
  return answered;
}
