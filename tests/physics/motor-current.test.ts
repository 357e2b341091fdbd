import fc from "fast-check";
import { expect, test } from "vitest";
import { motorCurrentA, motorLoad, usualUnloadedShare } from "../../src/physics/motor-current.ts";

// Computed from I = √(I₀² + (x·Iₐ)²), which bends below half load as the U.S. Department of Energy's
// Motor Challenge fact sheet "Determining Electric Motor Load and Efficiency" describes.
test.each([
  [0, 0.5],
  [0.25, 0.545],
  [0.5, 0.661],
  [0.75, 0.82],
  [1, 1],
  [1.15, 1.114],
])("at load %d a motor with half its current unloaded draws %d of full load", (load, share) => {
  expect(motorCurrentA({ fullLoadCurrentA: 8, unloadedShare: 0.5 }, load) / 8).toBeCloseTo(share, 3);
});

test("a low supply voltage raises the current of a loaded motor and lowers that of an unloaded one", () => {
  const motor = { fullLoadCurrentA: 13.8, unloadedShare: 0.5 };
  expect(motorCurrentA(motor, 1, 0.9)).toBeGreaterThan(motorCurrentA(motor, 1));
  expect(motorCurrentA(motor, 0, 0.9)).toBeLessThan(motorCurrentA(motor, 0));
});

test("a small capacitor-start motor that loses half its load loses less than a fifth of its current", () => {
  for (const unloadedShare of Object.values(usualUnloadedShare)) {
    expect(motorCurrentA({ fullLoadCurrentA: 1, unloadedShare }, 0.5)).toBeGreaterThan(0.75);
  }
});

test("load read back from the current is the load that drew it, at any voltage", () => {
  const motors = fc.record({
    fullLoadCurrentA: fc.double({ min: 2, max: 24, noNaN: true }),
    unloadedShare: fc.double({ min: 0.3, max: 0.9, noNaN: true }),
  });
  const loads = fc.double({ min: 0.05, max: 2, noNaN: true });
  const voltages = fc.double({ min: 0.8, max: 1.15, noNaN: true });
  fc.assert(
    fc.property(motors, loads, voltages, (motor, load, voltage) => {
      expect(motorLoad(motor, motorCurrentA(motor, load, voltage), voltage)).toBeCloseTo(load, 9);
    }),
  );
});

test("a motor that draws no more than its magnetising current carries nothing", () => {
  const motor = { fullLoadCurrentA: 10, unloadedShare: 0.75 };
  expect(motorLoad(motor, 7.4)).toBe(0);
  expect(motorLoad(motor, 0)).toBe(0);
});

test("a missing current gives no load", () => {
  expect(motorLoad({ fullLoadCurrentA: 10, unloadedShare: 0.75 }, Number.NaN)).toBeNaN();
});
