import { expect, test } from "vitest";
import { mannKendall } from "../../src/statistics/mann-kendall.ts";
import { normalQuantile } from "../../src/statistics/normal.ts";
import { seasonalKendall, seasonalTrend } from "../../src/statistics/seasonal-trend.ts";
import { slopeInterval, theilSen } from "../../src/statistics/theil-sen.ts";

const epaTimes = [89.6, 90.1, 90.8, 91.1, 92.1, 93.1, 94.1, 95.6, 96.1, 96.3];
const epaValues = [56, 53, 51, 55, 52, 60, 62, 59, 61, 63];

test("EPA QA/G-9S (2006), worked example with ties: S = 22, Var(S) = 155.33, Z = 1.685, p = 0.0920", () => {
  const { s, variance, z, p } = mannKendall([10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15]);
  expect(s).toBe(22);
  expect(variance).toBeCloseTo(155.33, 2);
  expect(Math.abs(z - 1.685)).toBeLessThan(1e-3);
  expect(p).toBeCloseTo(0.092, 4);
});

test("EPA QA/G-9S (2006), small sample: 5 6 11 8 10 has S = 6, one-sided exact p = 14/120", () => {
  const { s, variance, p } = mannKendall([5, 6, 11, 8, 10]);
  expect(s).toBe(6);
  expect(variance).toBeCloseTo(16.67, 2);
  expect(p / 2).toBeCloseTo(14 / 120, 12);
});

test("EPA 530/R-09-007 (2009), data of Example 17-7: S = 25, Var(S) = 125, Z = 2.146625, p = 0.0318", () => {
  const { s, variance, z, p } = mannKendall(epaValues);
  expect(s).toBe(25);
  expect(variance).toBe(125);
  expect(z).toBeCloseTo(2.146625, 6);
  expect(p).toBeCloseTo(0.0318, 4);
});

test("EPA 530/R-09-007 (2009), data of Example 17-7: slope 1.3333333, intercept −65.9666667", () => {
  const { slope, intercept, slopes } = theilSen(epaTimes, epaValues);
  expect(slopes).toHaveLength(45);
  expect(slope).toBeCloseTo(1.3333333, 7);
  expect(intercept).toBeCloseTo(-65.9666667, 7);
});

test("EPA 530/R-09-007 (2009), data of Example 17-7, 95 % by Gilbert with interpolated ranks: 0.3992083 to 2.3333333", () => {
  const { slopes } = theilSen(epaTimes, epaValues);
  const [low, high] = slopeInterval(slopes, mannKendall(epaValues).variance, normalQuantile(0.975));
  expect(low).toBeCloseTo(0.3992083, 5);
  expect(high).toBeCloseTo(2.3333333, 7);
});

test("Helsel and Hirsch, Statistical Methods in Water Resources, 10.1 (from memory): one wild value leaves slope 1, intercept 0", () => {
  const { slope, intercept, slopes } = theilSen([1, 2, 3, 4, 5, 6, 7], [1, 2, 3, 4, 5, 16, 7]);
  expect(slope).toBe(1);
  expect(intercept).toBe(0);
  expect(slopes).toHaveLength(21);
  expect([slopes[3], slopes[17]]).toEqual([1, 3.5]);
});

test("Hirsch, Slack and Smith (1982): S and its variance are the sums over the seasons, here two EPA examples as two seasons: 47, 280.33, Z = 46 / √280.33", () => {
  const first = [10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15];
  const values = [...first, ...epaValues];
  const seasons = values.map((_, i) => (i < first.length ? 0 : 1));
  const { s, variance, z } = seasonalKendall(values, seasons);
  expect(s).toBe(47);
  expect(variance).toBeCloseTo(280.33, 2);
  expect(z).toBeCloseTo(46 / Math.sqrt(280.33), 4);
});

test("EPA 530/R-09-007 (2009), data of Example 17-7, with a swing of 40 between two seasons laid over it: the slopes of like seasons stay", () => {
  const times = epaTimes.flatMap((time) => [time, time + 0.01]);
  const values = epaValues.flatMap((value) => [value, value + 40]);
  const trend = seasonalTrend(
    times,
    values,
    values.map((_, i) => i % 2),
  );
  expect(trend?.slope).toBeCloseTo(1.3333333, 7);
  const [first, second] = [trend?.intercepts.get(0) ?? 0, trend?.intercepts.get(1) ?? 0];
  expect(second - first).toBeCloseTo(40 - 0.01 * (trend?.slope ?? 0), 9);
});
