import { describe, expect, it } from "vitest";
import { dark, light } from "../../src/report/palette.ts";

/** Contrast of two colours, 1 to 21 (WCAG 2.2, definitions of contrast ratio and relative luminance). */
function contrast(a: string, b: string): number {
  const luminance = (colour: string): number => {
    const [red, green, blue] = [1, 3, 5].map((at) => {
      const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [high, low] = [luminance(a), luminance(b)].toSorted((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

it("contrast is worked out as published: black on white 21, #767676 the lightest grey that reaches 4.5", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 10);
  expect(contrast("#767676", "#ffffff")).toBeGreaterThan(4.5);
  expect(contrast("#777777", "#ffffff")).toBeLessThan(4.5);
});

describe.each([
  ["light", light],
  ["dark", dark],
] as const)("the report's colours, %s", (_, palette) => {
  it.each(["ink", "quiet", "link"] as const)(
    "%s is read on the page: 4.5 at least (WCAG 2.2, 1.4.3)",
    (name) => {
      expect(contrast(palette[name], palette.paper)).toBeGreaterThanOrEqual(4.5);
    },
  );

  it.each(["mean", "baseline", "rule"] as const)("%s is seen on the page: 3 at least (1.4.11)", (name) => {
    expect(contrast(palette[name], palette.paper)).toBeGreaterThanOrEqual(3);
  });

  it.each(["mean", "baseline"] as const)("%s is seen on the band: 3 at least (1.4.11)", (name) => {
    expect(contrast(palette[name], palette.band)).toBeGreaterThanOrEqual(3);
  });
});

it("paper is white", () => {
  expect(light.paper).toBe("#ffffff");
});
