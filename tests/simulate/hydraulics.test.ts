import { expect, test } from "vitest";
import { dutyFlowLpm } from "../../src/simulate/hydraulics.ts";

// Affinity laws, DOE-HDBK-1012/3-92, "Pump Laws": 1800 → 3600 rpm takes 400 gpm to 800 gpm. A speed
// changes the shutoff head by its square and leaves the curve's bend.
test("twice the speed moves twice the water through a system without static head", () => {
  expect(dutyFlowLpm(4 * 20, 3e-4, 9e-4) / dutyFlowLpm(20, 3e-4, 9e-4)).toBeCloseTo(2, 12);
});

test("a pump without head moves nothing", () => {
  expect(dutyFlowLpm(0, 3e-4, 9e-4)).toBe(0);
});
