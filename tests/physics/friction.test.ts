import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { darcyWeisbachHeadM, frictionFactor, hazenWilliamsHeadM } from "../../src/physics/friction.ts";

const gallon = 3.785411784;
const boreM = 1.61 * 0.0254;

describe.each([
  ["Hazen–Williams", (lpm: number, lengthM = 10, bore = boreM) => hazenWilliamsHeadM(lpm, lengthM, bore)],
  ["Darcy–Weisbach", (lpm: number, lengthM = 10, bore = boreM) => darcyWeisbachHeadM(lpm, lengthM, bore, 15)],
])("%s", (_name, head) => {
  test("still water loses nothing", () => {
    expect(head(0)).toBe(0);
    expect(head(-1)).toBe(0);
  });

  test("more flow, a longer pipe and a narrower bore lose more", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 400, noNaN: true }), (lpm) => {
        const lost = head(lpm);
        expect(lost).toBeGreaterThan(0);
        expect(head(1.01 * lpm)).toBeGreaterThan(lost);
        expect(head(lpm, 20)).toBeCloseTo(2 * lost, 9);
        expect(head(lpm, 10, 0.98 * boreM)).toBeGreaterThan(lost);
      }),
    );
  });

  test("a flow that is not known loses a head that is not known", () => {
    expect(head(Number.NaN)).toBeNaN();
  });
});

// Computed: they hold two codings of a formula together.
test.each([
  [1e4, 0, 0.030972],
  [1e5, 0, 0.017863],
  [1e4, 1e-3, 0.032665],
  [1e5, 1e-3, 0.022342],
  [1e5, 1e-2, 0.038751],
  [1e6, 1e-4, 0.013508],
])("Re %d in a pipe of roughness %d: friction factor %d", (reynolds, roughness, factor) => {
  expect(Math.abs(frictionFactor(reynolds, roughness) - factor)).toBeLessThan(1e-6);
});

test.each([
  [20, 2.46, 2.541],
  [30, 5.212, 5.228],
  [40, 8.879, 8.748],
  [50, 13.423, 13.062],
])("%d gpm lose %d ft in 100 ft by Hazen–Williams, %d ft by Darcy–Weisbach at 20 °C", (gpm, hazen, darcy) => {
  expect(hazenWilliamsHeadM(gpm * gallon, 100, boreM)).toBeCloseTo(hazen, 2);
  expect(darcyWeisbachHeadM(gpm * gallon, 100, boreM, 20)).toBeCloseTo(darcy, 2);
});

test("cold water loses more than warm, which Hazen–Williams does not know", () => {
  expect(darcyWeisbachHeadM(100, 10, boreM, 2)).toBeGreaterThan(
    1.05 * darcyWeisbachHeadM(100, 10, boreM, 25),
  );
});

test("a coefficient of 140 instead of 150 loses 14 % more", () => {
  expect(hazenWilliamsHeadM(100, 10, boreM, 140) / hazenWilliamsHeadM(100, 10, boreM)).toBeCloseTo(1.136, 3);
});
