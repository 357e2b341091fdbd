import fc from "fast-check";
import { expect, test } from "vitest";
import { continuedFraction } from "../../src/statistics/continued-fraction.ts";
import { incompleteBeta } from "../../src/statistics/incomplete-beta.ts";
import { upperGamma } from "../../src/statistics/incomplete-gamma.ts";
import { normalQuantile, normalUpperTail } from "../../src/statistics/normal.ts";
import { betaQuantile, chiSquareQuantile, fQuantile } from "../../src/statistics/quantiles.ts";

const chance = fc.double({ min: 0.001, max: 0.999, noNaN: true });
const shape = fc.double({ min: 1, max: 200, noNaN: true });

test("a quantile leads back to its chance", () => {
  fc.assert(
    fc.property(chance, shape, shape, (p, a, b) => {
      expect(incompleteBeta(betaQuantile(p, a, b), a, b)).toBeCloseTo(p, 9);
      expect(1 - upperGamma(a / 2, chiSquareQuantile(p, a) / 2)).toBeCloseTo(p, 9);
      expect(1 - normalUpperTail(normalQuantile(p))).toBeCloseTo(p, 12);
    }),
  );
});

test("the normal quantile is as far below the middle as above it", () => {
  fc.assert(
    fc.property(chance, (p) => {
      expect(normalQuantile(p)).toBeCloseTo(-normalQuantile(1 - p), 9);
    }),
  );
  expect(normalQuantile(0.5)).toBe(0);
  expect([normalQuantile(0), normalQuantile(1)]).toEqual([
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
  ]);
});

test("F with very many degrees below is χ² over its degrees", () => {
  expect(fQuantile(0.99, 6, 1e6) * 6).toBeCloseTo(chiSquareQuantile(0.99, 6), 3);
});

test("a chance outside 0 to 1 is refused", () => {
  for (const p of [-0.1, 1.1, Number.NaN]) {
    expect(() => normalQuantile(p)).toThrow("within 0 to 1");
    expect(() => fQuantile(p, 2, 10)).toThrow("fQuantile");
    expect(() => betaQuantile(p, 2, 10)).toThrow("betaQuantile");
    expect(() => chiSquareQuantile(p, 2)).toThrow("chiSquareQuantile");
  }
});

test("1 + 1/(1 + 1/(1 + …)) is the golden ratio; a fraction that never settles is refused", () => {
  expect(
    continuedFraction(
      () => 1,
      () => 1,
    ),
  ).toBeCloseTo((1 + Math.sqrt(5)) / 2, 14);
  expect(() =>
    continuedFraction(
      () => -1,
      () => 1,
    ),
  ).toThrow("did not settle");
});
