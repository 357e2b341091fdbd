import { expect, test } from "vitest";
import {
  entranceLoss,
  exitLoss,
  fittingLengths,
  fittingLoss,
  lossHeadM,
} from "../../src/physics/fittings.ts";
import { darcyWeisbachHeadM } from "../../src/physics/friction.ts";
import { roughnessM } from "../../src/physics/roughness.ts";

const inchM = 0.0254;

// "Representative equivalent length in pipe diameters (L/D) of various valves and fittings", Crane TP-410 as a college
// text on unit operations reprints it.
test.each([
  ["elbow", 30],
  ["elbow_45", 16],
  ["long_elbow", 20],
  ["gate_valve", 13],
  ["ball_valve", 3],
  ["check_valve", 135],
  ["foot_valve", 420],
  ["hinged_foot_valve", 75],
] as const)("a %s is as long as %d bores", (fitting, bores) => {
  expect(fittingLengths[fitting]).toBe(bores);
});

// Crane TP-410, page A-26, friction factors of clean commercial steel in fully turbulent flow (from memory).
test.each([
  [1.049, 0.023],
  [1.61, 0.021],
  [2.067, 0.019],
  [3.068, 0.018],
])("the turbulent friction factor of steel pipe of %d in is %d within 5 %%", (bore, factor) => {
  const found = fittingLoss("elbow", bore * inchM) / 30;
  expect(Math.abs(found / factor - 1)).toBeLessThan(0.05);
});

/**
 * A university tutorial on water supply: new cast iron (0.26 mm) from one reservoir to another, 300 m of 0.6 m and then
 * 300 m of 0.4 m, 0.5 m³/s at 10 °C, K 0.5 at the sharp-edged entrance, 0.24 at the contraction, 1 at the exit. It
 * finds 13.337 m, with friction factors off the Moody diagram.
 */
test("two cast-iron pipes with their entrance, contraction and exit lose 13.337 m within 2 %", () => {
  const flow = 0.5 * 60_000;
  const friction = [0.6, 0.4].map((bore) => darcyWeisbachHeadM(flow, 300, bore, 10, roughnessM["cast iron"]));
  const lost =
    lossHeadM(entranceLoss, flow, 0.6) + friction[0] + lossHeadM(0.24 + exitLoss, flow, 0.4) + friction[1];
  expect(Math.abs(lost / 13.337 - 1)).toBeLessThan(0.02);
});
