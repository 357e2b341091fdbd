import fc from "fast-check";
import { expect, test } from "vitest";
import { heatAfter, steadyHeat, tripTimeS } from "../../src/physics/thermal-replica.ts";

const replica = { timeConstantS: 1800, bearableCurrentA: 10.29 };
const current = fc.double({ min: 0, max: 60, noNaN: true });
const seconds = fc.double({ min: 0.1, max: 7200, noNaN: true });
const heats = fc.double({ min: 0, max: 3, noNaN: true });

test("a minute is the same in one step as in any two", () => {
  fc.assert(
    fc.property(heats, current, seconds, seconds, (heat, amperes, one, other) => {
      const split = heatAfter(replica, heatAfter(replica, heat, amperes, one), amperes, other);
      expect(split).toBeCloseTo(heatAfter(replica, heat, amperes, one + other), 9);
    }),
  );
});

test("after the time told, the heat is just used up", () => {
  const overload = fc.double({ min: 10.5, max: 60, noNaN: true });
  const before = fc.double({ min: 0, max: 0.99, noNaN: true });
  fc.assert(
    fc.property(before, overload, (heat, amperes) => {
      const afterS = tripTimeS(replica, heat, amperes);
      expect(heatAfter(replica, heat, amperes, afterS)).toBeCloseTo(1, 9);
    }),
  );
});

test("heat lies between where it began and where a steady current ends it", () => {
  fc.assert(
    fc.property(heats, current, seconds, (heat, amperes, step) => {
      const end = steadyHeat(replica, amperes);
      const after = heatAfter(replica, heat, amperes, step);
      expect(after).toBeGreaterThanOrEqual(Math.min(heat, end) - 1e-9);
      expect(after).toBeLessThanOrEqual(Math.max(heat, end) + 1e-9);
    }),
  );
});

test("a current that the motor bears never trips it", () => {
  expect(tripTimeS(replica, 0, 10.29)).toBe(Number.POSITIVE_INFINITY);
  expect(tripTimeS(replica, 0.99, 0)).toBe(Number.POSITIVE_INFINITY);
});

test("a motor whose heat is used up trips at once, whatever it draws", () => {
  expect(tripTimeS(replica, 1, 60)).toBe(0);
  expect(tripTimeS(replica, 1.2, 0)).toBe(0);
});

test("a missing current, a repeated time and one that steps back leave the heat as it was", () => {
  expect(heatAfter(replica, 0.8, Number.NaN, 60)).toBe(0.8);
  expect(heatAfter(replica, 0.8, 5, 0)).toBe(0.8);
  expect(heatAfter(replica, 0.8, 5, -10)).toBe(0.8);
  expect(heatAfter(replica, 0.8, 5, Number.NaN)).toBe(0.8);
});
