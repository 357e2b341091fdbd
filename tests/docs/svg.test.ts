import { describe, expect, it, test } from "vitest";
import { readXml } from "../support/xml.ts";
import type { Cell } from "../terminal/pty.ts";
import { dark, dimness, light } from "./palette.ts";
import { svgOf } from "./svg.ts";

const plain: Cell = {
  text: "",
  width: 1,
  ink: undefined,
  paper: undefined,
  strong: false,
  dim: false,
  reverse: false,
};
const cells = (text: string, look: Partial<Cell> = {}): readonly Cell[] =>
  [...text].map((letter) => ({ ...plain, ...look, text: letter }));
const drawn = (...row: readonly (readonly Cell[])[]) => readXml(svgOf([row.flat()], "A screen"));
const texts = (...row: readonly (readonly Cell[])[]) =>
  drawn(...row)
    .filter(({ name }) => name === "text")
    .map(({ text, attributes: { x, textLength } }) => [text, Number(x) / 9, Number(textLength) / 9]);

describe("a screen as a picture", () => {
  it("has each run of words at its column and as wide as its cells", () => {
    expect(texts(cells("  Lost prime  now ─ ─"))).toEqual([
      ["Lost prime", 2, 10],
      ["now", 14, 3],
      ["─", 18, 1],
      ["─", 20, 1],
    ]);
  });

  it("parts characters that may come from fonts of other widths", () => {
    expect(texts(cells("O₃ ─━⣿⠿▁█A"))).toEqual([
      ["O₃", 0, 2],
      ["─━", 3, 2],
      ["⣿⠿", 5, 2],
      ["▁█", 7, 2],
      ["A", 9, 1],
    ]);
  });

  it("lays a badge's colour under its spaces too, and reverse video is ink under paper", () => {
    const elements = drawn(
      cells(" ■ ", { ink: 7, paper: 1, strong: true }),
      cells(" LM", { reverse: true }),
      cells("x"),
    );
    const looks = elements.map(({ name, attributes }) => [name, attributes.class, attributes.width]);
    expect(looks).toContainEqual(["rect", "p1", "27"]);
    expect(looks).toContainEqual(["rect", "p-ink", "27"]);
    expect(looks).toContainEqual(["text", "i7 strong", undefined]);
    expect(looks).toContainEqual(["text", "i-paper", undefined]);
    expect(looks).toContainEqual(["text", undefined, undefined]);
  });

  it("takes a wide character for two columns", () => {
    const wide = [{ ...plain, text: "池", width: 2 }, { ...plain, width: 0 }, ...cells(" A")];
    expect(texts(wide)).toEqual([
      ["池", 0, 2],
      ["A", 3, 1],
    ]);
  });

  it("keeps the signs that XML takes for its own", () => {
    expect(texts(cells("<5&6>"))).toEqual([["<5&6>", 0, 5]]);
  });

  it("refuses a colour that it has no place for", () => {
    expect(() => svgOf([cells("x", { ink: 200 })], "A screen")).toThrow("colour 200");
  });
});

/** Relative luminance of an sRGB colour (WCAG 2.2, definition). */
function luminance(colour: string): number {
  const [red, green, blue] = channels(colour).map((part) => {
    const value = part / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
const channels = (colour: string) => [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));

function contrast(one: string, other: string): number {
  const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
}

test("contrast is reckoned as WCAG does: black on white 21, and #777 on white 4.48", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 9);
  expect(contrast("#777777", "#ffffff")).toBeCloseTo(4.48, 2);
});

describe.each([
  ["light", light],
  ["dark", dark],
])("on a %s page every look has the contrast of 4.5 that WCAG 2.2 asks for (1.4.3)", (_, palette) => {
  const { paper, ink, colours } = palette;
  const dimmed = channels(ink).map((part, at) => part * dimness + channels(paper)[at] * (1 - dimness));
  const dim = `#${dimmed.map((part) => Math.round(part).toString(16).padStart(2, "0")).join("")}`;
  it.each([
    ["plain", ink, paper],
    ["dim", dim, paper],
    ["high", colours[7], colours[1]],
    ["medium", colours[0], colours[3]],
    ["low", colours[7], colours[5]],
  ])("%s", (_name, letters, ground) => {
    expect(contrast(letters, ground)).toBeGreaterThanOrEqual(4.5);
  });
});
