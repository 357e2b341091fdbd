import fc from "fast-check";
import { expect, test } from "vitest";
import { npshAtGaugeM, npshFromWaterM, npshToProvideM, waterNpshMargins } from "../../src/physics/npsh.ts";
import { velocityHeadM } from "../../src/physics/pipe-flow.ts";
import { kpaPerMetreAt } from "../../src/physics/water.ts";

// Computed from IAPWS-IF97, Tanaka 2001 and g = 9.80665: they hold two codings of the formula together.
test.each([
  [101.325, 20, 3, 0.5, 6.612],
  [101.325, 20, 1.5, 0.3, 8.312],
  [101.325, 30, 3, 0.5, 6.442],
  [101.325, 10, 1, 0.2, 9.01],
  [79.4952, 20, 3, 0.5, 4.382],
])(
  "%d kPa of air, %d °C, a lift of %d m and %d m lost leave %d m",
  (atmosphericKpa, temperatureC, liftM, frictionM, left) => {
    const npsh = npshFromWaterM({ atmosphericKpa, temperatureC, liftM, frictionM });
    expect(Math.abs(npsh - left)).toBeLessThan(0.002);
  },
);

test.each([
  [-25, 20, 7.664],
  [-40, 20, 6.132],
  [-25, 30, 7.488],
])("a gauge at %d kPa, %d °C and 30 gpm in a 1.61 in bore tell of %d m", (suctionKpa, temperatureC, left) => {
  const velocityHead = velocityHeadM(30 * 3.785411784, 1.61 * 0.0254);
  expect(velocityHead).toBeCloseTo(0.1059, 4);
  const at = { atmosphericKpa: 101.325, temperatureC, velocityHeadM: velocityHead, gaugeHeightM: 0 };
  expect(Math.abs(npshAtGaugeM(suctionKpa, at) - left)).toBeLessThan(0.002);
});

test("gauge and pond tell of the same NPSH: the gauge shows lift, friction, velocity and its own height", () => {
  const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  fc.assert(
    fc.property(
      double(70, 102),
      double(0, 40),
      double(-1, 5),
      double(0, 2),
      double(0, 0.5),
      double(-0.5, 0.5),
      (atmosphericKpa, temperatureC, liftM, frictionM, velocity, gaugeHeightM) => {
        const suctionKpa = -kpaPerMetreAt(temperatureC) * (liftM + frictionM + velocity + gaugeHeightM);
        const at = { atmosphericKpa, temperatureC, velocityHeadM: velocity, gaugeHeightM };
        const fromWater = npshFromWaterM({ atmosphericKpa, temperatureC, liftM, frictionM });
        expect(npshAtGaugeM(suctionKpa, at)).toBeCloseTo(fromWater, 9);
      },
    ),
  );
});

test("warmer water, thinner air, a higher lift and more friction each leave less", () => {
  const skid = { atmosphericKpa: 98, temperatureC: 20, liftM: 1.2, frictionM: 0.4 };
  const left = npshFromWaterM(skid);
  expect(npshFromWaterM({ ...skid, temperatureC: 30 })).toBeLessThan(left);
  expect(npshFromWaterM({ ...skid, atmosphericKpa: 90 })).toBeLessThan(left);
  expect(npshFromWaterM({ ...skid, liftM: 1.8 })).toBeLessThan(left);
  expect(npshFromWaterM({ ...skid, frictionM: 0.9 })).toBeLessThan(left);
});

test("a margin never asks for less than the pump requires", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.1, max: 20, noNaN: true }), (requiredM) => {
      const low = npshToProvideM(requiredM, waterNpshMargins.below7500);
      expect(low).toBeGreaterThan(requiredM);
      expect(npshToProvideM(requiredM, waterNpshMargins.above7500)).toBeGreaterThan(low);
    }),
  );
});
