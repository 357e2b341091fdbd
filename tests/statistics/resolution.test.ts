import { describe, expect, test } from "vitest";
import { resolutionOf } from "../../src/statistics/resolution.ts";

describe("the step in which an instrument reads", () => {
  test.each([
    ["a gauge of whole kilopascals", [86, 87, 86, 88], 1],
    ["one with a decimal", [86.1, 86.4, 86.2], 0.1],
    ["one that has always read the same", [20, 20, 20], 1],
    ["likewise, with two decimals", [9.31, 9.31], 0.01],
    ["psi stored as kilopascals", [68.94757, 69.637046, 68.94757], 0.689476],
  ])("%s", (_what, values, step) => {
    expect(resolutionOf(values)).toBeCloseTo(step, 6);
  });
});
