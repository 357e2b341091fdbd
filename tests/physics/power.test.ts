import { globSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { power } from "../../src/physics/power.ts";
import { projectFolder } from "../support/program.ts";

const pure = "src/{engine,physics,statistics,condition,detect,assess,forecast,advise}{.ts,/**/*.ts}";
const sources = globSync(pure, { cwd: projectFolder });

/** Powers other than squares and cubes, as they stand in a source, comments left out. */
function othersThanPower(source: string): string[] {
  const code = source.replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/g, "");
  return [...code.matchAll(/\bMath\s*\.\s*pow\b|\bMath\s*\[|\*\*=?(?!=?\s*[23]\b(?!\s*[.*]))/g)].map(
    ([found]) => found,
  );
}

describe("a power that an event rests on", () => {
  it("is taken by exp and ln, and nowhere else: another version of Node would tell other events", () => {
    expect(sources.length).toBeGreaterThan(80);
    const found = sources.flatMap((path) =>
      othersThanPower(readFileSync(join(projectFolder, path), "utf8")).map((what) => `${path}: ${what}`),
    );
    expect(found).toEqual([]);
  });

  it.each([
    "a ** 0.5",
    "a ** b",
    "a ** 2.5",
    "a **= 1.85",
    "Math.pow(a, 2)",
    "Math . pow(a, 2)",
    "a ** -2",
    "2 ** x",
    "a ** 2 ** b",
  ])("would be noticed as %s", (code) => {
    expect(othersThanPower(`const y = ${code};`)).not.toEqual([]);
  });

  it("may be a square or a cube, or stand in a comment", () => {
    expect(othersThanPower("/** x ** y */ const y = a ** 2 + b**3; // Math.pow")).toEqual([]);
  });

  it("is what multiplying gives, to 13 digits", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), fc.integer({ min: 0, max: 6 }), (x, n) => {
        const product = Array.from({ length: n }).reduce<number>((sum) => sum * x, 1);
        expect(Math.abs(power(x, n) / product - 1)).toBeLessThan(1e-13);
      }),
    );
    expect(power(0, 1.852)).toBe(0);
    expect(power(-1, 2)).toBeNaN();
  });
});
