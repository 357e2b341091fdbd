import fc from "fast-check";
import { expect, test } from "vitest";
import { wilson } from "../../src/statistics/wilson.ts";

test("the interval lies within 0 to 1, holds the share, and mirrors when hits and misses are swapped", () => {
  fc.assert(
    fc.property(fc.nat(500), fc.nat(500), (hits, misses) => {
      const trials = hits + misses;
      const [low, high] = wilson(hits, trials);
      expect(low >= 0 && high <= 1 && low < high).toBe(true);
      if (trials > 0) {
        expect(low).toBeLessThanOrEqual(hits / trials);
        expect(high).toBeGreaterThanOrEqual(hits / trials);
      }
      const [swappedLow, swappedHigh] = wilson(misses, trials);
      expect(1 - swappedHigh).toBeCloseTo(low, 12);
      expect(1 - swappedLow).toBeCloseTo(high, 12);
    }),
  );
});

test("no faults tried tells nothing; all caught of 10 leaves room for a miss", () => {
  expect(wilson(0, 0)).toEqual([0, 1]);
  const [low, high] = wilson(10, 10);
  expect(high).toBe(1);
  expect(low).toBeCloseTo(0.7225, 4);
});

test("where nothing was caught the interval starts at 0 exactly, where all was it ends at 1 exactly", () => {
  for (let trials = 1; trials <= 500; trials++) {
    expect([wilson(0, trials)[0], wilson(trials, trials)[1]]).toEqual([0, 1]);
  }
});

test("more hits than trials is refused", () => {
  expect(() => wilson(3, 2)).toThrow("3 successes in 2 trials");
  expect(() => wilson(Number.NaN, 2)).toThrow("successes");
});
