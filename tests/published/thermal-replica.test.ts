import { expect, test } from "vitest";
import { heatAfter, steadyHeat, tripTimeS } from "../../src/physics/thermal-replica.ts";

/**
 * Source of the curves: IEC 60255-149:2013 (formerly IEC 60255-8), read through secondary texts: cold
 * t = τ ln[I²/(I² − (k I_B)²)], hot t = τ ln[(I² − I_p²)/(I² − (k I_B)²)]. Their values are computed from these.
 */
test.each([
  [10, 1, 2, 0, 2.87682 * 60],
  [10, 1, 2, 0.9, 0.614086 * 60],
  [30, 1.05, 1.2, 0, 43.525 * 60],
  [30, 1.05, 1.2, 0.9, 18.7246 * 60],
  [30, 1.05, 1.5, 0, 20.2003 * 60],
  [30, 1.05, 1.5, 0.9, 6.81172 * 60],
  [30, 1.05, 6, 0, 55.9867],
  [30, 1.05, 6, 0.9, 15.0242],
])(
  "τ %d min, k %d: %d times the base current after %d trips after %d s (IEC 60255-149)",
  (minutes, k, current, before, seconds) => {
    const replica = { timeConstantS: minutes * 60, bearableCurrentA: k * 9.8 };
    const heat = steadyHeat(replica, before * 9.8);
    expect(Math.abs(tripTimeS(replica, heat, current * 9.8) / seconds - 1)).toBeLessThan(1e-5);
  },
);

test("in steps of 1 s the heat is used up at the first step past the curve's 2611.499 s: number 2612 (IEC 60255-149)", () => {
  const replica = { timeConstantS: 1800, bearableCurrentA: 1.05 };
  let heat = 0;
  let steps = 0;
  while (heat < 1) {
    heat = heatAfter(replica, heat, 1.2, 1);
    steps++;
  }
  expect(steps).toBe(2612);
});

test("a stopped motor keeps 0.367879 of its heat after one time constant (IEC 60255-149)", () => {
  expect(heatAfter({ timeConstantS: 1800, bearableCurrentA: 10 }, 1, 0, 1800)).toBeCloseTo(0.367879, 6);
});
