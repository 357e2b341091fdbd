import fc from "fast-check";
import { expect, test } from "vitest";
import { startCusum, stepCusum } from "../../src/statistics/cusum.ts";

const chart = { target: 86, slack: 0.5, limit: 5 };

test("a discharge pressure 1 kPa low for good is found, and its count tells when it began", () => {
  const state = startCusum();
  const values = [86, 86.2, 85.9, 86.1, ...new Array(11).fill(85)];
  const signals = values.map((value) => stepCusum(state, value, chart));
  expect(signals.indexOf("low")).toBe(14);
  expect(state.lowCount).toBe(11);
});

test("wandering within the slack never signals", () => {
  const within = fc.array(fc.double({ min: 85.5, max: 86.5, noNaN: true }), { maxLength: 200 });
  fc.assert(
    fc.property(within, (values) => {
      const state = startCusum();
      for (const value of values) expect(stepCusum(state, value, chart)).toBe(null);
    }),
  );
});

test("a mirrored signal gives the mirrored sums", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -40, max: 40 })), (steps) => {
      const [up, down] = [startCusum(), startCusum()];
      for (const step of steps) {
        const high = stepCusum(up, 86 + step / 8, chart);
        const low = stepCusum(down, 86 - step / 8, chart);
        if (up.high !== up.low) expect(low).toBe(high && (high === "high" ? "low" : "high"));
      }
      expect([down.low, down.high, down.lowCount]).toEqual([up.high, up.low, up.highCount]);
    }),
  );
});

test("a missing value changes nothing, and the state survives JSON", () => {
  const state = startCusum();
  stepCusum(state, 88, chart);
  const copy = JSON.parse(JSON.stringify(state));
  stepCusum(state, Number.NaN, chart);
  expect(state).toEqual(copy);
  expect(state).toEqual({ high: 1.5, low: 0, highCount: 1, lowCount: 0 });
});
