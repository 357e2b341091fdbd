import { expect, test } from "vitest";
import { power } from "../../src/physics/power.ts";
import {
  dynamicViscosityPaS,
  kpaPerMetre,
  kpaPerMetreAt,
  saturationPressureKpa,
  waterDensityKgM3,
} from "../../src/physics/water.ts";

test("warmer water boils at a higher pressure and flows more easily", () => {
  for (let t = 0; t < 60; t += 0.5) {
    expect(saturationPressureKpa(t + 0.5)).toBeGreaterThan(saturationPressureKpa(t));
    expect(dynamicViscosityPaS(t + 0.5)).toBeLessThan(dynamicViscosityPaS(t));
  }
});

test("water is densest near 4 °C", () => {
  expect(waterDensityKgM3(4)).toBeGreaterThan(waterDensityKgM3(2));
  expect(waterDensityKgM3(4)).toBeGreaterThan(waterDensityKgM3(6));
});

test("a metre of water at 20 °C presses with 9.78906 kPa", () => {
  expect(kpaPerMetreAt(20)).toBeCloseTo(kpaPerMetre, 5);
});

// Computed from IAPWS SR6-08, µPa·s: they hold two codings of the formula together.
test.each([
  [0, 1791.8],
  [10, 1305.9],
  [20, 1001.6],
  [25, 889.997],
  [40, 652.7],
])("the viscosity at %d °C is %d µPa·s", (temperatureC, micro) => {
  expect(Math.abs(dynamicViscosityPaS(temperatureC) * 1e6 - micro)).toBeLessThan(0.051);
});

test("a temperature that is not known gives nothing", () => {
  expect(saturationPressureKpa(Number.NaN)).toBeNaN();
  expect(kpaPerMetreAt(Number.NaN)).toBeNaN();
  expect(dynamicViscosityPaS(Number.NaN)).toBeNaN();
});

test("powers agree with the language's own to thirteen digits", () => {
  for (const [x, y] of [
    [2, 10],
    [0.3, 1.852],
    [0.0409, -4.8704],
    [58_732, 0.9],
  ])
    expect(power(x, y) / x ** y).toBeCloseTo(1, 12);
  expect(power(0, 1.852)).toBe(0);
});
