import fc from "fast-check";
import { expect, test } from "vitest";
import { primingTimeMin } from "../../src/physics/priming.ts";

const pipe = { volumeL: 6, liftM: 1.2, airHeadM: 10.3, airLpm: 10, highestLiftM: 7.62 };

// No published example with numbers was found; the handbooks divide the volume by the pump's capacity for air.
test("with next to no lift the time is the pipe's volume over the air that the pump takes in", () => {
  expect(primingTimeMin({ ...pipe, liftM: 1e-6 })).toBeCloseTo(6 / 10, 4);
});

test("where the air drawn in does not fall with the lift, it is the closed formula's time", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.1, max: 9, noNaN: true }), (liftM) => {
      const r = pipe.airHeadM / liftM;
      const closed = (6 / 10) * (2 - (r - 1) * Math.log(r / (r - 1)));
      expect(primingTimeMin({ ...pipe, liftM, highestLiftM: 1e12 }) / closed).toBeCloseTo(1, 4);
    }),
  );
});

test("a higher lift takes longer, and one that the pump cannot lift for ever", () => {
  const times = [1, 3, 5, 7].map((liftM) => primingTimeMin({ ...pipe, liftM }));
  expect(times).toEqual(times.toSorted((a, b) => a - b));
  expect(primingTimeMin({ ...pipe, liftM: 7.62 })).toBe(Number.POSITIVE_INFINITY);
});

test("a flooded pump has nothing to draw up", () => {
  expect(primingTimeMin({ ...pipe, liftM: -1 })).toBe(0);
});
