import { expect, test } from "vitest";
import { motorCurrentA } from "../../src/physics/motor-current.ts";
import { capacitorStartMotor, motorLossW } from "../../src/simulate/motor.ts";

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
