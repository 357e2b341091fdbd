import { expect, test } from "vitest";
import { robustLocationScale } from "../../src/statistics/robust.ts";

/**
 * Source of the constant: 1/Φ⁻¹(3/4) = 1.482602218505602 (P. J. Rousseeuw, C. Croux, "Alternatives to the
 * Median Absolute Deviation", JASA 88, 1993, prints 1.4826; from memory).
 */
test("1 2 3 4 100: the median is 3, the MAD 1, and the scale 1.4826, whatever the wild value", () => {
  expect(robustLocationScale([1, 2, 3, 4, 100])).toEqual({ center: 3, spread: 1.482602218505602 });
  expect(robustLocationScale([1, 2, 3, 4, 1e9])).toEqual({ center: 3, spread: 1.482602218505602 });
});

/**
 * Source: quantiles of the standard normal distribution, NIST/SEMATECH e-Handbook of Statistical Methods
 * 1.3.6.7.1 (Φ(0.67449) = 0.75): equally likely normal quantiles stand for a normal sample with σ = 1.
 */
test("a normal sample of σ = 1 has a spread near 1", () => {
  const values: number[] = [];
  for (let i = 0; i < 4000; i++) {
    // Box–Muller over a lattice: a fixed sample with the normal's shape.
    const radius = Math.sqrt(-2 * Math.log((i + 0.5) / 4000));
    values.push(radius * Math.cos(2 * Math.PI * ((i * 0.6180339887498949) % 1)));
  }
  const { center, spread } = robustLocationScale(values);
  expect(center).toBeCloseTo(0, 1);
  expect(spread).toBeGreaterThan(0.98);
  expect(spread).toBeLessThan(1.02);
});
