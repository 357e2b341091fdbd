import { expect, test } from "vitest";
import {
  capacitorStartMotor,
  fullLoadCurrentA,
  motorCurrentA,
  motorLossW,
} from "../../src/simulate/motor.ts";

test.each([
  [0.5, 115, 9.8],
  [0.75, 115, 13.8],
  [1, 115, 16],
  [0.5, 230, 4.9],
  [0.75, 230, 6.9],
  [1, 230, 8],
] as const)(
  "full-load current of %s hp at %s V is %s A (NEC Table 430.248)",
  (horsepower, voltage, current) => {
    expect(fullLoadCurrentA(horsepower, voltage)).toBe(current);
  },
);

// Computed from I = √(I₀² + (x·Iₐ)²), which bends below half load as the U.S. Department of Energy's
// Motor Challenge fact sheet "Determining Electric Motor Load and Efficiency" describes.
test.each([
  [0, 0.5],
  [0.25, 0.545],
  [0.5, 0.661],
  [0.75, 0.82],
  [1, 1],
  [1.15, 1.114],
])("at load %s a motor with half its current unloaded draws %s of full load", (load, share) => {
  const motor = capacitorStartMotor(1, 230, 0.5);
  expect(motorCurrentA(motor, load) / motor.fullLoadCurrentA).toBeCloseTo(share, 3);
});

test("a low supply voltage raises the current of a loaded motor and lowers that of an unloaded one", () => {
  const motor = capacitorStartMotor(0.75, 115, 0.5);
  expect(motorCurrentA(motor, 1, 0.9)).toBeGreaterThan(motorCurrentA(motor, 1));
  expect(motorCurrentA(motor, 0, 0.9)).toBeLessThan(motorCurrentA(motor, 0));
});

test("the power drawn covers shaft power and losses at full load", () => {
  for (const unloadedShare of [0.7, 0.8]) {
    const motor = capacitorStartMotor(0.5, 115, unloadedShare);
    const working = motor.fullLoadCurrentA * Math.sqrt(1 - unloadedShare ** 2);
    const lossW = motorLossW(motor, motor.fullLoadCurrentA);
    expect(motor.voltageV * working).toBeGreaterThan(motor.ratedPowerW + lossW);
  }
});

test("an unloaded motor makes less heat than a loaded one, but far from none", () => {
  const motor = capacitorStartMotor(1, 115, 0.75);
  const share = motorLossW(motor, motorCurrentA(motor, 0)) / motorLossW(motor, motorCurrentA(motor, 1));
  expect(share).toBeGreaterThan(0.6);
  expect(share).toBeLessThan(0.9);
});
