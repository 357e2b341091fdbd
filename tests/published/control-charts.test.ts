import { expect, test } from "vitest";
import { startCusum, stepCusum } from "../../src/statistics/cusum.ts";
import { ewmaLimits, startEwma, stepEwma } from "../../src/statistics/ewma.ts";

const ewmaData = [
  52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4,
  53.6, 52.1,
];
const ewmaPrinted = [
  50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
  49.92, 50.73, 51.23, 51.94, 51.99,
];

test("NIST/SEMATECH e-Handbook 6.3.2.4: the EWMA of 20 values with λ = 0.3 from 50, as printed", () => {
  const state = startEwma(50);
  for (const [i, value] of ewmaData.entries()) {
    stepEwma(state, value, 0.3);
    expect(Math.abs(state.mean - ewmaPrinted[i])).toBeLessThanOrEqual(0.0051);
  }
});

test("NIST/SEMATECH e-Handbook 6.3.2.4: limits 47.4115 and 52.5884 for s = 2.0539, and no value past them", () => {
  const { lower, upper } = ewmaLimits(50, 2.0539, 0.3, 3);
  expect(Math.abs(lower - 47.4115)).toBeLessThan(2e-4);
  expect(Math.abs(upper - 52.5884)).toBeLessThan(2e-4);
  expect(Math.sqrt(0.3 / (2 - 0.3))).toBeCloseTo(0.4201, 4);
  for (const z of ewmaPrinted) expect(z > lower && z < upper).toBe(true);
});

test("NIST/SEMATECH e-Handbook 6.3.2.4, its exact limits worked out apart: 48.1515 to 51.8485 after one value", () => {
  for (const [after, lower, upper] of [
    [1, 48.1515, 51.8485],
    [2, 47.7436, 52.2564],
    [5, 47.4484, 52.5516],
  ]) {
    const limits = ewmaLimits(50, 2.0539, 0.3, 3, after);
    expect(limits.lower).toBeCloseTo(lower, 4);
    expect(limits.upper).toBeCloseTo(upper, 4);
  }
});

test("NIST/SEMATECH e-Handbook 6.3.2.3: the tabular CUSUM of 20 groups, first signal at the 14th", () => {
  const values = [
    324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15,
    328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
  ];
  const high = [0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.0, 19.04];
  const low = [0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  const chart = { target: 325, slack: 0.3175, limit: 4.1959 };
  const state = startCusum();
  for (const [i, value] of values.entries()) {
    expect(stepCusum(state, value, chart)).toBe(i + 1 >= 14 ? "high" : null);
    expect(Math.abs(state.high - high[i])).toBeLessThan(0.0055);
    expect(Math.abs(state.low - low[i])).toBeLessThan(0.0055);
  }
});

test("Montgomery, Introduction to Statistical Quality Control, example 9.1 (from memory): C⁺ = 5.28 and N⁺ = 7 at the 29th", () => {
  const values = [
    9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.2, 10.34, 9.03, 11.47, 10.51, 9.4, 10.08, 9.37,
    10.62, 10.31, 8.52, 10.84, 10.9, 9.33, 12.29, 11.5, 10.6, 11.08, 10.38, 11.62, 11.31,
  ];
  const state = startCusum();
  const signals = values.map((value) => stepCusum(state, value, { target: 10, slack: 0.5, limit: 5 }));
  expect(signals.indexOf("high")).toBe(28);
  expect(state.high).toBeCloseTo(5.28, 6);
  expect(state.highCount).toBe(7);
});
