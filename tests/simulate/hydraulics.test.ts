import { expect, test } from "vitest";
import { dutyFlowLpm, hydraulicPowerW, pipeFrictionM } from "../../src/simulate/hydraulics.ts";

const gallon = 3.785411784;
const boreM = 1.61 * 0.0254;

// Illinois Administrative Code, Title 77, Part 906, Appendix A, Exhibit I: 1-1/2 in Schedule 40 plastic
// pipe, C = 150, feet a hundred feet. The 10 gpm value is printed to two digits.
test.each([
  [10, 0.7, 0.03],
  [15, 1.45, 0.015],
  [20, 2.46, 0.015],
  [25, 3.75, 0.015],
  [30, 5.22, 0.015],
])("%s gpm lose %s ft in 100 ft of pipe", (gpm, printed, tolerance) => {
  const friction = pipeFrictionM(gpm * gallon, 100, boreM);
  expect(Math.abs(friction / printed - 1)).toBeLessThan(tolerance);
});

test("still water loses nothing", () => {
  expect(pipeFrictionM(0, 10, boreM)).toBe(0);
});

// US water horsepower, gpm × ft / 3960: 0.4545 hp = 338.8 W at 20 °C.
test("30 gpm at 60 ft take 338.8 W", () => {
  expect(hydraulicPowerW(30 * gallon, 60 * 0.3048) / 338.8).toBeCloseTo(1, 2);
});

// Affinity laws, DOE-HDBK-1012/3-92, "Pump Laws": 1800 → 3600 rpm takes 400 gpm to 800 gpm. A speed
// changes the shutoff head by its square and leaves the curve's bend.
test("twice the speed moves twice the water through a system without static head", () => {
  expect(dutyFlowLpm(4 * 20, 3e-4, 9e-4) / dutyFlowLpm(20, 3e-4, 9e-4)).toBeCloseTo(2, 12);
});

test("a pump without head moves nothing", () => {
  expect(dutyFlowLpm(0, 3e-4, 9e-4)).toBe(0);
});
