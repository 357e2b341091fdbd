import fc from "fast-check";
import { expect, it } from "vitest";
import { anyMet } from "../../src/assess/delays.ts";
import { verdict } from "../../src/detect/rule.ts";

const { no, met, hold } = verdict;

it("finds a condition that is met in any row, four rows at a time", () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom(no, hold), { minLength: 1, maxLength: 40 }),
      fc.nat(),
      fc.nat(),
      fc.nat(),
      (verdicts, a, b, c) => {
        const words = new Uint32Array(10);
        const rows = new Uint8Array(words.buffer);
        rows.set(verdicts);
        const from = a % verdicts.length;
        const to = from + 1 + (b % (verdicts.length - from));
        expect(anyMet(words, from, to)).toBe(false);
        rows[from + (c % (to - from))] = met;
        expect(anyMet(words, from, to)).toBe(true);
      },
    ),
  );
});
