import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hasReading, markReadings, startFleetTime } from "../../src/collector/fleet-time.ts";

const batchAt = (timesMs: readonly number[]) => ({
  rows: timesMs.length,
  timeMs: Float64Array.from(timesMs),
  columns: [],
});

const second = fc.integer({ min: -100_000, max: 300_000 }).map((s) => s * 1000);

describe("when a fleet had readings", () => {
  it("knows as much as a list of all of them would, in whole seconds, over days and before 1970", () => {
    fc.assert(
      fc.property(
        fc.array(second, { maxLength: 40 }),
        second,
        fc.oneof(fc.integer({ min: 1, max: 130 }), fc.integer({ min: 1, max: 400_000 })),
        (timesMs, fromMs, lengthS) => {
          const fleet = startFleetTime();
          markReadings(fleet, batchAt(timesMs));
          const beforeMs = fromMs + lengthS * 1000;
          expect(hasReading(fleet, fromMs, beforeMs)).toBe(timesMs.some((t) => t >= fromMs && t < beforeMs));
        },
      ),
      { numRuns: 500 },
    );
  });

  it("does not hang on the order in which units are taken in", () => {
    fc.assert(
      fc.property(fc.array(second, { minLength: 1, maxLength: 30 }), fc.nat(30), (timesMs, cut) => {
        const one = startFleetTime();
        markReadings(one, batchAt(timesMs));
        const other = startFleetTime();
        markReadings(other, batchAt(timesMs.slice(cut)));
        markReadings(other, batchAt(timesMs.slice(0, cut).reverse()));
        expect(other).toEqual(one);
        expect(one.newestMs).toBe(Math.max(...timesMs));
      }),
    );
  });

  it("counts a reading at the beginning of the span and none at its end", () => {
    const fleet = startFleetTime();
    markReadings(fleet, batchAt([90_000]));
    expect(hasReading(fleet, 90_000, 90_001)).toBe(false);
    expect(hasReading(fleet, 90_000, 91_000)).toBe(true);
    expect(hasReading(fleet, 80_000, 90_000)).toBe(false);
    expect(hasReading(fleet, 90_000, 500_000)).toBe(true);
    expect(hasReading(fleet, 90_001, 500_000)).toBe(false);
  });
});
