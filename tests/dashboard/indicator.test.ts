import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { indicator } from "../../src/dashboard/indicator.ts";
import { lineWidth, textOf } from "../../src/dashboard/line.ts";
import { reading } from "./fixture.ts";

const normal = { center: 50, low: 40, high: 60 };
const gauge = (value: number | null, width = 11) =>
  textOf(indicator(reading("discharge_pressure", value, { normal, limitLow: 0, limitHigh: 100 }), width));

describe("a reading on its scale (after ANSI/ISA-101.01)", () => {
  test("the pointer stands in the normal band between the limits", () => {
    expect(gauge(50)).toBe("├───━●━───┤");
  });

  test("the pointer leaves the band before it reaches a limit", () => {
    expect(gauge(80)).toBe("├───━━━─●─┤");
  });

  test("past a limit an arrow stands at the scale's end, and stands out", () => {
    expect(gauge(130)).toBe("├───━━━───›");
    expect(gauge(-3)).toBe("‹───━━━───┤");
    const past = indicator(reading("discharge_pressure", 130, { normal, limitLow: 0, limitHigh: 100 }), 11);
    expect(past.find((piece) => piece.text === "›")?.style).toBe("selected");
  });

  test("a missing value has no pointer", () => {
    expect(gauge(null)).toBe("├───━━━───┤");
  });

  test("without baseline and limits there is no scale to stand on", () => {
    expect(textOf(indicator(reading("flow", 3), 7))).toBe("       ");
  });

  test("any reading takes exactly its columns, with one pointer at most", () => {
    const number = fc.double({ noNaN: true, min: -1e6, max: 1e6 });
    fc.assert(
      fc.property(
        number,
        number,
        number,
        fc.option(number),
        fc.option(number),
        fc.integer({ min: 3, max: 40 }),
        (value, center, half, limitLow, limitHigh, width) => {
          const band = { center, low: center - Math.abs(half), high: center + Math.abs(half) };
          const drawn = indicator(reading("flow", value, { normal: band, limitLow, limitHigh }), width);
          expect(lineWidth(drawn)).toBe(width);
          expect(textOf(drawn).match(/[●‹›]/g)).toHaveLength(1);
        },
      ),
    );
  });
});
