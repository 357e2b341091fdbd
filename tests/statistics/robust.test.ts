import fc from "fast-check";
import { expect, test } from "vitest";
import { robustLocationScale } from "../../src/statistics/robust.ts";

test("one wild reading in five moves neither centre nor spread far", () => {
  const { center, spread } = robustLocationScale([86, 87, 86.5, 2, 86.2]);
  expect(center).toBe(86.2);
  expect(spread).toBeLessThan(1);
});

test("a quantised sensor that mostly repeats one value still has a spread: 1.2533 × the mean deviation", () => {
  expect(robustLocationScale([60, 60, 60, 60, 61])).toEqual({ center: 60, spread: 1.2533141373155003 / 5 });
});

test("a sensor that never moves has the spread 0", () => {
  expect(robustLocationScale([60, 60, 60])).toEqual({ center: 60, spread: 0 });
  expect(robustLocationScale([7])).toEqual({ center: 7, spread: 0 });
});

test("no readings have no centre", () => {
  expect(() => robustLocationScale([])).toThrow("at least one value");
});

test("order does not matter, the list is left as it is, and scale follows the unit", () => {
  const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 1, maxLength: 60 });
  fc.assert(
    fc.property(values, (list) => {
      const kept = [...list];
      const { center, spread } = robustLocationScale(list);
      expect(list).toEqual(kept);
      expect(robustLocationScale([...list].reverse())).toEqual({ center, spread });
      const eightfold = robustLocationScale(list.map((x) => 8 * x + 3));
      expect(eightfold.center).toBeCloseTo(8 * center + 3, 9);
      expect(eightfold.spread).toBeCloseTo(8 * spread, 9);
      expect(spread).toBeGreaterThanOrEqual(0);
    }),
  );
});
