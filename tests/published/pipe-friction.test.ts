import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { darcyWeisbachHeadM, frictionFactor, hazenWilliamsHeadM } from "../../src/physics/friction.ts";
import { flowVelocityMS, reynoldsNumber, velocityHeadM } from "../../src/physics/pipe-flow.ts";

const gallon = 3.785411784;
/** 1-1/2 in Schedule 40 at its least wall (ASTM D1785, Tables 1 and 2). */
const boreM = 1.61 * 0.0254;
const relative = (value: number, printed: number) => Math.abs(value / printed - 1);

// Illinois Administrative Code, Title 77, Part 906, Appendix A, Exhibit I: 1-1/2 in Schedule 40 plastic
// pipe, C = 150, feet a hundred feet. The 10 gpm value is printed to two digits.
describe("loss in 100 ft of 1-1/2 in plastic pipe (Illinois Administrative Code 77-906, Exhibit I)", () => {
  test.each([
    [10, 0.7, 0.03],
    [15, 1.45, 0.015],
    [20, 2.46, 0.015],
    [25, 3.75, 0.015],
    [30, 5.22, 0.015],
  ])("%d gpm lose %d ft, by Hazen–Williams", (gpm, printed, tolerance) => {
    expect(relative(hazenWilliamsHeadM(gpm * gallon, 100, boreM), printed)).toBeLessThan(tolerance);
  });

  test.each([
    [20, 2.46],
    [25, 3.75],
    [30, 5.22],
  ])("%d gpm lose %d ft within 4 %%, by Darcy–Weisbach at 20 °C", (gpm, printed) => {
    expect(relative(darcyWeisbachHeadM(gpm * gallon, 100, boreM, 20), printed)).toBeLessThan(0.04);
  });
});

// v[ft/s] = 0.4085 q/d², gpm and inches: the trade's form, read through secondary texts.
test("30 gpm move at 4.728 ft/s through a bore of 1.61 in", () => {
  expect(flowVelocityMS(30 * gallon, boreM) / 0.3048).toBeCloseTo((0.4085 * 30) / 1.61 ** 2, 2);
});

/**
 * Source: F. M. White, Fluid Mechanics, Example 6.7: oil of 10⁻⁵ m²/s, 0.2 m³/s through 500 m of cast iron,
 * bore 0.2 m, roughness 0.26 mm. Printed: 6.4 m/s, Re 128 000, f 0.0225 off the Moody chart, and a loss of
 * 117 m (the loss from memory).
 */
test("White's oil line: 6.4 m/s, Re 128 000, friction factor 0.0225, 117 m lost", () => {
  const flowLpm = 0.2 * 60_000;
  const velocity = flowVelocityMS(flowLpm, 0.2);
  expect(velocity).toBeCloseTo(6.4, 1);
  const reynolds = reynoldsNumber(velocity, 0.2, 1e-5);
  expect(relative(reynolds, 128_000)).toBeLessThan(0.01);
  const factor = frictionFactor(reynolds, 0.0013);
  expect(relative(factor, 0.0225)).toBeLessThan(0.02);
  expect(relative(factor * (500 / 0.2) * velocityHeadM(flowLpm, 0.2), 117)).toBeLessThan(0.02);
});

/** C. F. Colebrook's implicit formula (J. Inst. Civ. Eng. 11, 1939), solved by substitution. */
function colebrook(reynolds: number, relativeRoughness: number): number {
  let root = 8;
  for (let i = 0; i < 60; i++) root = -2 * Math.log10(relativeRoughness / 3.7 + (2.51 * root) / reynolds);
  return 1 / (root * root);
}

test("Swamee–Jain stays within 3 % of Colebrook–White over its whole range", () => {
  const exponent = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  fc.assert(
    fc.property(exponent(Math.log10(5e3), 8), exponent(-6, -2), (reynolds, roughness) => {
      const [re, rough] = [10 ** reynolds, 10 ** roughness];
      expect(relative(frictionFactor(re, rough), colebrook(re, rough))).toBeLessThan(0.03);
    }),
  );
});

test("laminar flow at Re 1000 has the friction factor 0.064 (Hagen–Poiseuille, 64/Re)", () => {
  expect(frictionFactor(1000, 0.001)).toBe(0.064);
});
