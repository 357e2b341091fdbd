import { expect, test } from "vitest";
import { atmosphericPressureKpa } from "../../src/physics/atmosphere.ts";

// Computed by the U.S. Standard Atmosphere 1976, Pa: they hold two codings of the formula together.
test.each([
  [0, 101_325],
  [500, 95_461.3],
  [1000, 89_876.3],
  [2000, 79_501.4],
  [3000, 70_121.2],
])("at %d m the air presses with %d Pa", (elevationM, pascal) => {
  expect(Math.abs(atmosphericPressureKpa(elevationM) * 1000 - pascal)).toBeLessThan(0.06);
});

test("the air of a pond below sea level presses more than that of one in the hills", () => {
  expect(atmosphericPressureKpa(-60)).toBeGreaterThan(101.325);
  expect(atmosphericPressureKpa(1600)).toBeLessThan(85);
});
