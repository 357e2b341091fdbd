import { expect, test } from "vitest";
import { dutyAtSpeed } from "../../src/physics/affinity.ts";
import { hydraulicPowerW } from "../../src/physics/pump-power.ts";

const gallon = 3.785411784;
const footM = 0.3048;

/**
 * Source: DOE-HDBK-1012/3-92, Fluid Flow (HT-03), example to "Pump Laws"; inputs and flow as printed, head and
 * power by its laws.
 */
test("a pump of 400 gpm, 48 ft and 45 kW at 1800 rpm gives 800 gpm, 192 ft and takes 360 kW at 3600 rpm", () => {
  const duty = dutyAtSpeed({ flowLpm: 400 * gallon, headM: 48 * footM, powerW: 45_000 }, 3600 / 1800);
  expect(duty.flowLpm / gallon).toBeCloseTo(800, 9);
  expect(duty.headM / footM).toBeCloseTo(192, 9);
  expect(duty.powerW).toBeCloseTo(360_000, 6);
});

// Water horsepower, gpm × ft / 3960 (the trade's form): 0.4545 hp = 338.8 W at 20 °C.
test("30 gpm at 60 ft take 0.4545 hp", () => {
  const horsepower = hydraulicPowerW(30 * gallon, 60 * footM) / 745.6999;
  expect(Math.abs(horsepower / ((30 * 60) / 3960) - 1)).toBeLessThan(0.002);
});
