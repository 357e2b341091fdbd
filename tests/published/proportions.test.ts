import { expect, test } from "vitest";
import { wilson } from "../../src/statistics/wilson.ts";

test.each([
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
])(
  "Newcombe, Statistics in Medicine 17 (1998), table I (from memory): %i of %i is %d to %d by the score method",
  (successes, trials, low, high) => {
    const interval = wilson(successes, trials);
    expect(interval[0]).toBeCloseTo(low, 4);
    expect(interval[1]).toBeCloseTo(high, 4);
  },
);
