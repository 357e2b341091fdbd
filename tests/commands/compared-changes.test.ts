import { expect, test } from "vitest";
import { comparedLines } from "../../src/commands/compared-text.ts";
import { compare } from "../../src/score/compare.ts";
import { score } from "../../src/score/score.ts";
import { fault, told } from "../score/told.ts";

const faults = [fault("10:00-11:00 suction-air"), fault("12:00-13:00 lost-prime")];

/** What `score --compare` says before its tables. */
function changes(a: readonly string[], b: readonly string[], isKnown = true): readonly string[] {
  const [inA, inB] = [told(...a), told(...b)];
  const scores = [score(faults, inA, null), score(faults, inB, null)] as const;
  const lines = comparedLines(compare(inA, inB), isKnown ? scores : undefined);
  return lines.slice(0, lines.indexOf(""));
}

const run = ["10:05 raised suction-air", "12:05 raised lost-prime"];

test("two runs are told by what changed first, a line an alarm, then by their tables", () => {
  expect(changes(run, ["10:06 raised suction-air", "15:00 raised lost-prime"])).toEqual([
    "lost-prime: 1 raised only in A, 1 raised only in B, caught -1, false +1",
    "suction-air: median delay +1.0 min",
  ]);
});

test("of two runs that raised the same it is said that nothing changed", () => {
  expect(changes(run, run)).toEqual([
    "nothing changed: B raised what A raised, within 10 min, and scored the same",
  ]);
  expect(changes(run, ["10:06 raised suction-air", "12:05 raised lost-prime"], false)).toEqual([
    "nothing changed: B raised what A raised, within 10 min",
  ]);
});
