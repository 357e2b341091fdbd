import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { levelReached } from "../../src/statistics/level-reached.ts";
import { trend } from "../../src/statistics/trend.ts";

const days = [0, 1, 2, 3, 4, 5, 6, 7];

describe("the time at which a trend reaches a level", () => {
  it("is where its line crosses it", () => {
    const line = trend(
      days,
      days.map((d) => 100 + 3 * d),
    );
    expect(levelReached(line, days, 130)).toEqual({ at: 10, earliest: 10, latest: 10 });
  });

  it("has an interval that the scatter of the points widens, to no end where the slope may be none", () => {
    const scattered = [100, 107, 101, 112, 108, 118, 113, 121];
    const reached = levelReached(trend(days, scattered), days, 140);
    expect(reached.earliest).toBeLessThan(reached.at);
    expect(reached.latest).toBeGreaterThan(reached.at);
    const wild = [100, 90, 108, 95, 104, 96, 107, 99];
    expect(levelReached(trend(days, wild), days, 140).latest).toBe(Number.POSITIVE_INFINITY);
  });

  it("never comes where nothing rises", () => {
    expect(
      levelReached(
        trend(
          days,
          days.map((d) => 100 - d),
        ),
        days,
        140,
      ).at,
    ).toBe(Number.POSITIVE_INFINITY);
  });

  it("lies within its interval, whatever the points", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 8, maxLength: 8 }),
        fc.integer({ min: 60, max: 200 }),
        (scatter, level) => {
          const line = trend(
            days,
            days.map((d, i) => 5 * d + (scatter[i] ?? 0) / 10),
          );
          const { at, earliest, latest } = levelReached(line, days, level);
          expect(earliest).toBeLessThanOrEqual(at);
          expect(latest).toBeGreaterThanOrEqual(at);
        },
      ),
      { numRuns: 50 },
    );
  });
});
