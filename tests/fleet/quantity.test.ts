import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { duration, parseQuantity, quantity } from "../../src/fleet/quantity.ts";
import { type StoredUnit, storedUnits, toStored, unitsOf } from "../../src/fleet/units.ts";

describe("a quantity is written as a technician writes it", () => {
  test.each<[string | number, StoredUnit, number]>([
    ["9.8 A", "A", 9.8],
    ["850 mA", "A", 0.85],
    [9.8, "A", 9.8],
    ["9.8", "A", 9.8],
    ["6 ft", "m", 1.8288],
    ["1.61 in", "m", 0.040894],
    ['1.61"', "m", 0.040894],
    ["130 degF", "°C", 54.444444],
    ["130 °F", "°C", 54.444444],
    ["-40 F", "°C", -40],
    ["60 deg C", "°C", 60],
    ["12 psi", "kPa", 82.737088],
    ["0.4 bar", "kPa", 40],
    ["40 kPa", "kPa", 40],
    ["5 inH2O", "kPa", 1.245445],
    ["20 inHg", "kPa", 67.727773],
    ["30 gpm", "L/min", 113.562354],
    ["15 K", "K", 15],
    ["27 F", "K", 15],
    ["0.1 ppm", "ppm", 0.1],
    ["1 hp", "W", 745.699872],
    ["20 %", "%", 20],
    ["1.15", "", 1.15],
    [".5 A", "A", 0.5],
    ["1e3 W", "W", 1000],
    ["+3 m", "m", 3],
    ["9.8A", "A", 9.8],
    [" 9.8  A ", "A", 9.8],
  ])("%s as %s", (written, unit, stored) => {
    expect(quantity(unit).parse(written)).toBeCloseTo(stored, 6);
  });

  test.each<[string | number, number]>([
    ["10 s", 10_000],
    [10, 10_000],
    ["10", 10_000],
    ["20s", 20_000],
    ["250 ms", 250],
    ["5 min", 300_000],
    ["2 h", 7_200_000],
    ["30 d", 2_592_000_000],
    ["1 hour", 3_600_000],
    ["0 s", 0],
  ])("a duration of %s", (written, ms) => {
    expect(duration().parse(written)).toBe(ms);
  });
});

describe("what is no quantity is answered with what to write", () => {
  test.each<[unknown, StoredUnit, string]>([
    ["9,8", "A", "'9,8' is not a quantity; write 9.8 A"],
    ["9,8 mA", "A", "'9,8 mA' is not a quantity; write 9.8 mA"],
    ["1,200 W", "W", "'1,200 W' is not a quantity; write 750 W"],
    ["ten amps", "A", "'ten amps' is not a quantity; write 9.8 A"],
    ["9.8 V", "A", "'9.8 V' is not a current; write 9.8 A"],
    ["9.7 Q", "A", "'9.7 Q' has the unknown unit 'Q'; write 9.8 A"],
    ["9.8.1 A", "A", "'9.8.1 A' is not a quantity; write 9.8 A"],
    ["300 K", "°C", "'300 K' is not a temperature; write 60 degC"],
    [Number.NaN, "A", "'NaN' is not a quantity; write 9.8 A"],
    [Number.POSITIVE_INFINITY, "A", "'Infinity' is not a quantity; write 9.8 A"],
    ["1e999 A", "A", "'1e999 A' is not a quantity; write 9.8 A"],
    ["", "A", "nothing is not a quantity; write 9.8 A"],
    [null, "m", "nothing is not a quantity; write 1.5 m"],
    [[], "m", "a list is not a quantity; write 1.5 m"],
    [{}, "m", "a mapping is not a quantity; write 1.5 m"],
    [true, "m", "'true' is not a quantity; write 1.5 m"],
    ["5 m", "ms", "'5 m' is not a duration; write 5 min"],
    ["5,5 h", "ms", "'5,5 h' is not a duration; write 5.5 h"],
    ["soon", "ms", "'soon' is not a duration; write 10 s"],
    ["\u001b[2J", "A", "'␛[2J' is not a quantity; write 9.8 A"],
    ["x".repeat(500), "A", `'${"x".repeat(39)}…' is not a quantity; write 9.8 A`],
    ["1.2 A", "", "'1.2 A' is not a number; write 1.15"],
  ])("%j as %s", (written, unit, message) => {
    expect(
      quantity(unit)
        .safeParse(written)
        .error?.issues.map((issue) => issue.message),
    ).toEqual([message]);
  });

  test("a bound is told in the unit people write", () => {
    const problem = (text: string) => parseQuantity(text, "A", { above: 0, max: 20 });
    expect(problem("0 A")).toEqual({ problem: "'0 A' is too small; write more than 0 A" });
    expect(problem("21000 mA")).toEqual({ problem: "'21000 mA' is too large; write 20 A or less" });
    expect(problem("20 A")).toEqual({ value: 20 });
    expect(duration().safeParse("-1 s").error?.issues[0]?.message).toBe(
      "'-1 s' is too small; write 0 s or more",
    );
  });
});

describe("units", () => {
  test("are known in any case and with or without spaces", () => {
    for (const spelling of ["inHg", "INHG", "in Hg", "inhg"]) {
      expect(toStored(spelling, "kPa")).toEqual(toStored("inhg", "kPa"));
    }
  });

  test("of one kind do not pass for another", () => {
    expect(toStored("psi", "A")).toBeUndefined();
    expect(toStored("K", "°C")).toBeUndefined();
    expect(toStored("toString", "A")).toBeUndefined();
    expect(toStored("A", "constructor")).toBeUndefined();
  });

  test("every spelling of every unit reads back as its conversion says", () => {
    const spellings = storedUnits.flatMap((stored) => unitsOf(stored).map((unit) => ({ stored, unit })));
    const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...spellings), number, ({ stored, unit }, x) => {
        const { factor, offset } = toStored(unit, stored) ?? { factor: Number.NaN, offset: 0 };
        expect(factor).toBeGreaterThan(0);
        expect(parseQuantity(`${x} ${unit}`, stored)).toEqual({ value: x * factor + offset });
      }),
    );
  });
});
