import { expect, test } from "vitest";
import { atmosphericPressureKpa } from "../../src/physics/atmosphere.ts";
import { npshFromWaterM, npshToProvideM, waterNpshMargins } from "../../src/physics/npsh.ts";
import { kpaPerMetreAt, saturationPressureKpa } from "../../src/physics/water.ts";

const footM = 0.3048;

/**
 * Source: L. Bachus, A. Custodio, "Know and Understand Centrifugal Pumps" (2003), chapter on NPSH (attribution
 * from memory): an open tank 8 ft below the pump at 7000 ft, water of 50 °F, 1.0 ft lost in the line and 2.0 ft
 * at the inlet. It prints the air's head as 26.2 ft and the vapour's as 0.411 ft.
 */
test("an open tank 8 ft below a pump at 7000 ft leaves 14.789 ft of NPSH", () => {
  const atmosphericKpa = atmosphericPressureKpa(7000 * footM);
  const perMetre = kpaPerMetreAt(10);
  expect(atmosphericKpa / perMetre / footM).toBeCloseTo(26.2, 1);
  expect(saturationPressureKpa(10) / perMetre / footM).toBeCloseTo(0.411, 3);

  const losses = { temperatureC: 10, liftM: 8 * footM, frictionM: 3 * footM };
  const asPrinted = npshFromWaterM({ atmosphericKpa: 26.2 * footM * perMetre, ...losses });
  expect(Math.abs(asPrinted / footM - 14.789)).toBeLessThan(0.005);
  expect(Math.abs(npshFromWaterM({ atmosphericKpa, ...losses }) / footM - 14.789)).toBeLessThan(0.05);
});

// ANSI/HI 9.6.1-2012, read through secondary texts: ratio 1.1 or 0.6 m below a suction specific speed of 7500,
// 1.2 or 1.0 m above, whichever asks for more.
test.each([
  ["below7500", 2.5, 3.1],
  ["below7500", 8, 8.8],
  ["above7500", 2.5, 3.5],
  ["above7500", 8, 9.6],
] as const)("%s: an NPSH required of %d m asks for %d m (ANSI/HI 9.6.1)", (speed, requiredM, askedM) => {
  expect(npshToProvideM(requiredM, waterNpshMargins[speed])).toBeCloseTo(askedM, 12);
});
