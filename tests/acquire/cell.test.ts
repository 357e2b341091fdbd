import { describe, expect, it } from "vitest";
import { readNumber, readStatus, unreadable } from "../../src/acquire/cell.ts";

describe("numbers in a cell", () => {
  it.each([
    ["9.8", 9.8],
    ["5", 5],
    ["0", 0],
    ["-0.5", -0.5],
    ["+3", 3],
    [" 7.25 ", 7.25],
    ["1e3", 1000],
    [".5", 0.5],
    ["9,81", 9.81],
    ["-12,5", -12.5],
  ])("reads '%s'", (cell, value) => {
    expect(readNumber(cell, false)).toBe(value);
  });

  it.each([[""], ["  "], ["NaN"], ["nan"], ["n/a"], ["null"]])("takes '%s' for a missing value", (cell) => {
    expect(readNumber(cell, false)).toBeNaN();
  });

  it.each([["abc"], ["0x10"], ["1 2"], ["Infinity"], ["1e999"], ["1.234,5"], ["1,2,3"], ["12abc"], ["- 5"]])(
    "cannot read '%s'",
    (cell) => {
      expect(readNumber(cell, false)).toBe(unreadable);
    },
  );

  it("refuses a comma that could be a thousands mark, where commas part the columns", () => {
    expect(readNumber("1,234", true)).toBe(unreadable);
    expect(readNumber("1,5", true)).toBe(1.5);
    expect(readNumber("1,234", false)).toBe(1.234);
  });
});

describe("a status in a cell", () => {
  it.each([
    ["on", 1],
    ["ON", 1],
    ["True", 1],
    ["1", 1],
    ["off", 0],
    ["0", 0],
    ["FALSE", 0],
    ["Fault", 2],
    ["ein", 1],
    ["Aus", 0],
    ["an", 1],
    ["Störung", 2],
    ["oui", 1],
    ["NON", 0],
    ["arrêt", 0],
    ["sí", 1],
    ["si", 1],
    ["no", 0],
    ["ligado", 1],
    ["wyłączony", 0],
  ])("reads ozone '%s' as %d", (cell, value) => {
    expect(readStatus(cell, true)).toBe(value);
  });

  it("knows no fault of a run command, and no other words", () => {
    expect(readStatus("fault", false)).toBe(unreadable);
    expect(readStatus("störung", false)).toBe(unreadable);
    expect(readStatus("constructor", true)).toBe(unreadable);
    expect(readStatus("", true)).toBeNaN();
  });
});
