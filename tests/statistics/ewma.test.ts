import fc from "fast-check";
import { expect, test } from "vitest";
import { ewmaLimits, ewmaShare, startEwma, stepEwma } from "../../src/statistics/ewma.ts";

test("after one time constant a step has come through to 63 %, however often the logger samples", () => {
  for (const stepMs of [1_000, 10_000, 60_000]) {
    const state = startEwma(0);
    for (let t = stepMs; t <= 600_000; t += stepMs) stepEwma(state, 10, ewmaShare(stepMs, 600_000));
    expect(state.mean).toBeCloseTo(10 * (1 - Math.exp(-1)), 9);
  }
});

test("a value held for two steps counts as much as for one step twice as long", () => {
  const step = fc.integer({ min: 1, max: 120_000 });
  const reading = fc.double({ min: -100, max: 100, noNaN: true });
  fc.assert(
    fc.property(fc.array(fc.tuple(reading, step), { minLength: 1, maxLength: 20 }), (readings) => {
      const [once, halved] = [startEwma(), startEwma()];
      for (const [value, dtMs] of readings) {
        stepEwma(once, value, ewmaShare(dtMs, 300_000));
        for (let i = 0; i < 2; i++) stepEwma(halved, value, ewmaShare(dtMs / 2, 300_000));
      }
      expect(halved.mean).toBeCloseTo(once.mean, 8);
      expect(halved.variance).toBeCloseTo(once.variance, 6);
    }),
  );
});

test("the first readings count alike: two readings 10 s apart do not leave an hour's average at the first", () => {
  const state = startEwma();
  for (const value of [80, 90]) stepEwma(state, value, ewmaShare(10_000, 3_600_000));
  expect(state.mean).toBeCloseTo(85, 1);
  expect(state.variance).toBeCloseTo(25, 3);
});

test("mean and variance are those of all values with their fading weights", () => {
  const shares = fc.double({ min: 0.001, max: 1, noNaN: true });
  const readings = fc.array(fc.tuple(fc.double({ min: -1e3, max: 1e3, noNaN: true }), shares), {
    minLength: 1,
  });
  fc.assert(
    fc.property(readings, (list) => {
      const state = startEwma();
      let weighted: { value: number; weight: number }[] = [];
      for (const [value, share] of list) {
        stepEwma(state, value, share);
        weighted = weighted.map((w) => ({ value: w.value, weight: w.weight * (1 - share) }));
        weighted.push({ value, weight: share });
      }
      const total = weighted.reduce((sum, w) => sum + w.weight, 0);
      const mean = weighted.reduce((sum, w) => sum + w.weight * w.value, 0) / total;
      const variance = weighted.reduce((sum, w) => sum + w.weight * (w.value - mean) ** 2, 0) / total;
      expect(state.weight).toBeCloseTo(total, 9);
      expect(state.mean).toBeCloseTo(mean, 6);
      expect(Math.abs(state.variance - variance)).toBeLessThan(1e-6 * (1 + variance));
    }),
  );
});

test("a missing value changes nothing, and the state survives JSON", () => {
  const state = startEwma();
  for (const value of [4, Number.NaN, 6]) stepEwma(state, value, 0.2);
  const copy = JSON.parse(JSON.stringify(state));
  expect(copy).toEqual(state);
  stepEwma(state, Number.NaN, 0.2);
  expect(state).toEqual(copy);
});

test("limits start narrow, widen, and settle", () => {
  const early = ewmaLimits(50, 2, 0.2, 3, 1);
  expect(early.upper).toBeCloseTo(50 + 3 * 0.2 * 2, 12);
  expect(ewmaLimits(50, 2, 0.2, 3, 200).upper).toBeCloseTo(ewmaLimits(50, 2, 0.2, 3).upper, 12);
  expect(ewmaLimits(50, 2, 1, 3)).toEqual({ lower: 44, upper: 56 });
});
