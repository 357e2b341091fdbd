import { expect, test } from "vitest";
import { normalQuantile, normalUpperTail } from "../../src/statistics/normal.ts";
import { betaQuantile, chiSquareQuantile, fQuantile } from "../../src/statistics/quantiles.ts";

test("NIST/SEMATECH e-Handbook 1.3.6.7.1 (from memory): Φ(1) = 0.84134, Φ(1.96) = 0.97500, Φ(3) = 0.99865", () => {
  expect(1 - normalUpperTail(1)).toBeCloseTo(0.84134, 5);
  expect(1 - normalUpperTail(1.96)).toBeCloseTo(0.975, 5);
  expect(1 - normalUpperTail(3)).toBeCloseTo(0.99865, 5);
});

test("Abramowitz and Stegun, table 26.1 (from memory): far tails keep their digits, Q(6) = 9.8659E−10", () => {
  expect(normalUpperTail(6) / 9.8659e-10).toBeCloseTo(1, 4);
});

test("Rousseeuw and Croux (1993, from memory): 1/Φ⁻¹(3/4) is 1.4826, the constant of the MAD", () => {
  expect(1 / normalQuantile(0.75)).toBeCloseTo(1.482602218505602, 13);
  expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 13);
});

test.each([
  [0.95, 1, 3.841],
  [0.95, 2, 5.991],
  [0.95, 10, 18.307],
  [0.99, 2, 9.21],
  [0.99, 10, 23.209],
  [0.05, 10, 3.94],
  [0.95, 100, 124.342],
])(
  "NIST/SEMATECH e-Handbook 1.3.6.7.4 (from memory): χ² at %d with %i degrees is %d",
  (p, degrees, value) => {
    expect(chiSquareQuantile(p, degrees)).toBeCloseTo(value, 3);
  },
);

test.each([
  [0.95, 1, 1, 161.448],
  [0.95, 1, 10, 4.965],
  [0.95, 5, 10, 3.326],
  [0.99, 5, 10, 5.636],
  [0.9, 3, 17, 2.437],
])(
  "NIST/SEMATECH e-Handbook 1.3.6.7.3 (from memory): F at %d with %i and %i degrees is %d",
  (p, d1, d2, value) => {
    expect(fQuantile(p, d1, d2)).toBeCloseTo(value, 3);
  },
);

test("a beta variable with shapes 2 and 1 has the distribution x², one with 1 and 3 has 1 − (1 − x)³ (NIST e-Handbook 1.3.6.6.17)", () => {
  expect(betaQuantile(0.25, 2, 1)).toBeCloseTo(0.5, 13);
  expect(betaQuantile(0.875, 1, 3)).toBeCloseTo(0.5, 13);
});
