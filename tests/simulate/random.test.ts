import fc from "fast-check";
import { expect, test } from "vitest";
import { partSeed, randomFrom } from "../../src/simulate/random.ts";

test("the same seed gives the same numbers, another seed others", () => {
  const first = Array.from({ length: 20 }, randomFrom(7).uniform);
  expect(Array.from({ length: 20 }, randomFrom(7).uniform)).toEqual(first);
  expect(Array.from({ length: 20 }, randomFrom(8).uniform)).not.toEqual(first);
});

test("uniform numbers fill [0, 1) evenly: chi-square of ten classes below its 0.1 % point 27.88", () => {
  const random = randomFrom(1);
  const classes = new Array<number>(10).fill(0);
  for (let i = 0; i < 10_000; i++) {
    const x = random.uniform();
    expect(x >= 0 && x < 1).toBe(true);
    const of = Math.floor(10 * x);
    classes[of] = (classes[of] ?? 0) + 1;
  }
  const chiSquare = classes.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
  expect(chiSquare).toBeLessThan(27.88);
});

test("normal numbers have mean 0 and standard deviation 1, two thirds of them within one", () => {
  const random = randomFrom(2);
  const values = Array.from({ length: 20_000 }, () => random.normal());
  const mean = values.reduce((a, b) => a + b) / values.length;
  const variance = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / values.length;
  expect(mean).toBeCloseTo(0, 1);
  expect(variance).toBeCloseTo(1, 1);
  expect(values.filter((x) => Math.abs(x) < 1).length / values.length).toBeCloseTo(0.683, 1);
});

test("parts of one seed have seeds of their own", () => {
  fc.assert(
    fc.property(fc.integer(), fc.nat(1000), fc.nat(1000), (seed, a, b) => {
      expect(partSeed(seed, a) === partSeed(seed, b)).toBe(a === b);
    }),
  );
});
