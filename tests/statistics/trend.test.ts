import fc from "fast-check";
import { expect, test } from "vitest";
import { randomFrom } from "../../src/simulate/random.ts";
import { lagOneAutocorrelation } from "../../src/statistics/autocorrelation.ts";
import { mannKendall } from "../../src/statistics/mann-kendall.ts";
import { slopeInterval, theilSen } from "../../src/statistics/theil-sen.ts";
import { serialVarianceFactor, trend } from "../../src/statistics/trend.ts";

const days = (n: number) => Array.from({ length: n }, (_, i) => i);

/** Days of a first-order autoregression: each follows the one before by `rho`. */
function wandering(n: number, rho: number, seed: number): number[] {
  const random = randomFrom(seed);
  let x = random.normal();
  return days(n).map(() => {
    x = rho * x + Math.sqrt(1 - rho * rho) * random.normal();
    return x;
  });
}

function falseTrends(rho: number, p: (values: number[]) => number): number {
  let found = 0;
  for (let seed = 1; seed <= 300; seed++) if (p(wandering(40, rho, seed)) < 0.05) found++;
  return found / 300;
}

test("gas pressure that rises 0.4 kPa a day is a trend, with the true slope within its interval", () => {
  const values = wandering(40, 0.3, 7).map((noise, day) => 30 + 0.4 * day + noise);
  const { slope, low, high, intercept, p } = trend(days(40), values);
  expect(p).toBeLessThan(1e-6);
  expect(low).toBeLessThan(0.4);
  expect(high).toBeGreaterThan(0.4);
  expect(slope > low && slope < high).toBe(true);
  expect(intercept).toBeCloseTo(30, -1);
});

test("pressure that wanders with the weather is no trend: about 5 % false at 5 %, where the plain test has 25 % and more", () => {
  expect(falseTrends(0.6, (values) => mannKendall(values).p)).toBeGreaterThan(0.25);
  expect(falseTrends(0.6, (values) => trend(days(40), values).p)).toBeLessThan(0.09);
  expect(falseTrends(0, (values) => trend(days(40), values).p)).toBeLessThan(0.07);
});

test("the interval holds the true slope in about 95 % of cases, wandering or not", () => {
  for (const rho of [0, 0.5]) {
    let held = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const { low, high } = trend(days(40), wandering(40, rho, seed));
      if (low <= 0 && high >= 0) held++;
    }
    expect(held / 300).toBeGreaterThan(0.9);
    expect(held / 300).toBeLessThan(0.99);
  }
});

test("three days tell nothing: the interval is endless", () => {
  const { low, high, p } = trend([0, 1, 2], [30, 31, 32]);
  expect([low, high]).toEqual([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]);
  expect(p).toBeGreaterThan(0.05);
});

test("a quantised pressure that never moves has slope 0 and no trend", () => {
  expect(trend(days(20), new Array(20).fill(31))).toMatchObject({ slope: 0, low: 0, high: 0, p: 1 });
});

test("one wild day in five does not carry the line away", () => {
  const values = days(20).map((day) => (day % 5 === 2 ? 500 : 30 + 0.5 * day));
  expect(theilSen(days(20), values).slope).toBeCloseTo(0.5, 1);
});

test("slope and test follow the unit and turn with the sign", () => {
  const values = fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 2, maxLength: 30 });
  fc.assert(
    fc.property(values, (list) => {
      const times = days(list.length);
      const line = theilSen(times, list);
      const { s, variance, p } = mannKendall(list);
      const turned = list.map((value) => 7 - 4 * value);
      expect(theilSen(times, turned).slope).toBeCloseTo(-4 * line.slope, 9);
      expect(mannKendall(turned)).toMatchObject({ s: s === 0 ? expect.closeTo(0) : -s, variance, p });
      const [low, high] = slopeInterval(line.slopes, variance, 1.96);
      expect(low).toBeLessThanOrEqual(line.slope);
      expect(high).toBeGreaterThanOrEqual(line.slope);
    }),
  );
});

test("times that stand still or step back, and a lone point, are refused", () => {
  expect(() => theilSen([1, 1], [2, 3])).toThrow("must ascend");
  expect(() => theilSen([2, 1], [2, 3])).toThrow("must ascend");
  expect(() => theilSen([1], [2])).toThrow("two points");
});

test("n/n* of a first-order autoregression: the closed form of Matalas and Langbein (1962, from memory)", () => {
  for (const [rho, n] of [
    [0.3, 20],
    [0.6, 50],
    [0.8, 365],
  ]) {
    const closed = 1 + (2 * (rho ** (n + 1) - n * rho * rho + (n - 1) * rho)) / (n * (rho - 1) * (rho - 1));
    expect(serialVarianceFactor(rho, n)).toBeCloseTo(closed, 9);
  }
  expect(serialVarianceFactor(0, 30)).toBe(1);
  expect(serialVarianceFactor(-0.5, 30)).toBe(1);
});

test("neighbours alike, opposite and equal: lag-1 autocorrelation near 1, near −1, and 0", () => {
  expect(lagOneAutocorrelation(days(1000))).toBeGreaterThan(0.99);
  expect(lagOneAutocorrelation(days(1000).map((i) => i % 2))).toBeLessThan(-0.99);
  expect(lagOneAutocorrelation([31, 31, 31])).toBe(0);
  expect(lagOneAutocorrelation(wandering(20_000, 0.6, 3))).toBeCloseTo(0.6, 1);
});
