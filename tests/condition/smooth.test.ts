import fc from "fast-check";
import { expect, it } from "vitest";
import { operating } from "../../src/condition/features.ts";
import { smooth, startSmoothing } from "../../src/condition/smooth.ts";

const everyMs = 10_000;
/** After this many even readings the weight of the level grows no more. */
const settled = 100;

/** Smooths readings that come evenly while the pump runs, row by row or as an even stretch once settled. */
function smoothed(readings: readonly number[], spread: number | undefined, evenly: boolean) {
  const value = Float64Array.from(readings);
  const timeMs = value.map((_, row) => row * everyMs);
  const state = new Uint8Array(value.length).fill(operating.running);
  const level = new Float64Array(value.length);
  const unsteady = new Float64Array(value.length);
  const memory = startSmoothing();
  for (const [from, to] of [
    [0, settled],
    [settled, value.length],
  ]) {
    const evenMs = evenly && from > 0 ? everyMs : Number.NaN;
    const rows = { timeMs, state, from, to, intervalMs: everyMs, evenMs };
    smooth(memory, value, spread, rows, evenly, level, unsteady);
  }
  return { level, unsteady, memory };
}

const reading = fc.oneof(fc.double({ min: -50, max: 200, noNaN: true }), fc.constantFrom(86, 86.1));
const readings = fc.array(reading, {
  minLength: settled + 1,
  maxLength: 300,
});

it("smooths an even stretch to the last bit as it does row by row", () => {
  fc.assert(
    fc.property(readings, fc.constantFrom(undefined, 0, 0.3, 2), (values, spread) => {
      expect(smoothed(values, spread, true)).toEqual(smoothed(values, spread, false));
    }),
    { numRuns: 60 },
  );
});

it("settles at the level of a gauge that stands still, with no unsteadiness", () => {
  const { level, unsteady } = smoothed(new Array(400).fill(86), 0.3, true);
  expect(level.at(-1)).toBe(86);
  expect(unsteady.at(-1)).toBeLessThan(0.01);
});
