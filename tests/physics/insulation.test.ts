import { expect, test } from "vitest";
import { insulationLifeShare, windingLimitC } from "../../src/physics/insulation.ts";

test.each([
  [140, 0.5],
  [150, 0.25],
  [130, 1],
  [120, 2],
])("insulation of class B at %d °C lasts %d times as long as at its limit", (windingC, share) => {
  expect(insulationLifeShare(windingC, windingLimitC.B)).toBeCloseTo(share, 12);
});
