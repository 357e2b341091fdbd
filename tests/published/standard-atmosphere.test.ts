import { expect, test } from "vitest";
import { atmosphericPressureKpa } from "../../src/physics/atmosphere.ts";

/**
 * Source: U.S. Standard Atmosphere 1976 (NOAA, NASA, USAF), pressure by geometric altitude, as reprinted in a
 * water-engineering textbook (Table 3-7). Sea level is printed there as 101.3 kPa, by definition 101.325.
 */
test.each([
  [0, 101.325],
  [500, 95.46],
  [1000, 89.88],
  [2000, 79.5],
  [3000, 70.12],
])("at %d m the air presses with %d kPa (U.S. Standard Atmosphere 1976)", (elevationM, printed) => {
  expect(Math.abs(atmosphericPressureKpa(elevationM) - printed)).toBeLessThan(0.005);
});
