import fc from "fast-check";
import { expect, test } from "vitest";
import { headAtM, headCurve, operatingFlowLpm } from "../../src/physics/operating-point.ts";
import { dutyFlowLpm } from "../../src/simulate/hydraulics.ts";

/**
 * Source: Y. A. Çengel, J. M. Cimbala, Fluid Mechanics, chapter on turbomachinery, a problem on two reservoirs: H₀ 7.46 m,
 * a 0.0453 and b 0.0261 m/(L/min)², 3.52 m between the surfaces (attribution and the answers, 7.43 L/min and
 * 4.96 m, from memory).
 */
test("a pump of 7.46 m against 3.52 m works at 7.43 L/min and 4.96 m", () => {
  const curve = { shutoffHeadM: 7.46, slope: 0.0453, exponent: 2 } as const;
  const flow = operatingFlowLpm(curve, (lpm) => 3.52 + 0.0261 * lpm * lpm);
  expect(flow).toBeCloseTo(7.43, 2);
  expect(headAtM(curve, flow)).toBeCloseTo(4.96, 2);
});

test("without static head the flow is that of the closed formula, √(H₀/(a + b))", () => {
  const positive = fc.double({ min: 1e-5, max: 0.1, noNaN: true });
  fc.assert(
    fc.property(fc.double({ min: 1, max: 60, noNaN: true }), positive, positive, (shutoffHeadM, slope, b) => {
      const flow = operatingFlowLpm({ shutoffHeadM, slope, exponent: 2 }, (lpm) => b * lpm * lpm);
      expect(flow / dutyFlowLpm(shutoffHeadM, slope, b)).toBeCloseTo(1, 6);
    }),
  );
});

test.each([1, 2] as const)(
  "a curve goes through the point that the maker states (exponent %d)",
  (exponent) => {
    const curve = headCurve(17, 100, 12.5, exponent);
    expect(headAtM(curve, 0)).toBe(17);
    expect(headAtM(curve, 100)).toBeCloseTo(12.5, 12);
  },
);

test("no water moves against more than the shutoff head", () => {
  expect(operatingFlowLpm(headCurve(10, 50, 8), () => 10)).toBe(0);
});
