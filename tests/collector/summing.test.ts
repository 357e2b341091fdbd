import fc from "fast-check";
import { expect, it } from "vitest";
import { isFull, startSumming, sum, takeFull } from "../../src/collector/summing.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { day, hour, minute } from "../../src/terms/time.ts";

const batchOf = (rows: readonly (readonly [number, number])[]): ReadingBatch => ({
  rows: rows.length,
  timeMs: Float64Array.from(rows, ([timeMs]) => timeMs),
  columns: [Float64Array.from(rows, ([, value]) => value)],
});

/** Rows in order: a step of some seconds, and a value that is sometimes missing. */
const someRows = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 900 }), fc.option(fc.integer({ min: -50, max: 50 }))), {
    minLength: 1,
    maxLength: 300,
  })
  .map((steps) => {
    let timeMs = 0;
    return steps.map(([stepS, value]): [number, number] => {
      timeMs += stepS * 1000;
      return [timeMs, value ?? Number.NaN];
    });
  });

it("least, mean and most of every minute, ten minutes and hour are those of its readings, however they came", () => {
  fc.assert(
    fc.property(someRows, fc.integer({ min: 1, max: 300 }), (rows, cut) => {
      const summing = startSumming();
      sum(summing, batchOf(rows.slice(0, cut)), 1, 0);
      sum(summing, batchOf(rows.slice(cut)), 1, 0);
      // A reading much later fills every span that is open.
      sum(summing, batchOf([[1000 * hour, 0]]), 1, 0);
      for (const { stepMs, fromMs, signals } of takeFull(summing, 0, true).rows) {
        for (const [slot, mean] of (signals[0]?.mean ?? []).entries()) {
          const at = fromMs + slot * stepMs;
          const values = rows
            .filter(([t, x]) => t >= at && t < at + stepMs && !Number.isNaN(x))
            .map(([, x]) => x);
          if (values.length === 0) {
            expect(mean).toBeNaN();
            continue;
          }
          expect(mean).toBeCloseTo(values.reduce((a, b) => a + b, 0) / values.length, 3);
          expect(signals[0].min[slot]).toBe(Math.min(...values));
          expect(signals[0].max[slot]).toBe(Math.max(...values));
        }
      }
      const counted = takeFull(summing, 0, true).rows.filter(({ stepMs }) => stepMs === minute);
      const minutes = new Set(rows.filter(([, x]) => !Number.isNaN(x)).map(([t]) => Math.floor(t / minute)));
      const slots = counted.flatMap(({ signals }) =>
        [...(signals[0]?.mean ?? [])].filter((x) => !Number.isNaN(x)),
      );
      expect(slots).toHaveLength(minutes.size);
    }),
    { numRuns: 100 },
  );
});

it("holds no span that is past what is kept: minutes of the last three days, ten minutes of the last thirty", () => {
  const summing = startSumming();
  const nowMs = 90 * day;
  const every = Array.from({ length: 90 * 24 }, (_, n): [number, number] => [n * hour, 1]);
  sum(summing, batchOf(every), 1, nowMs);
  expect(summing.full.map((spans) => spans.length)).toEqual([3 * 24 - 2, 30 * 24 - 3, 90 * 24 - 3]);
});

it("takes whatever it says is full, also of a log whose minutes are all past what is kept", () => {
  const summing = startSumming();
  const nowMs = 90 * day;
  const old = Array.from({ length: 7 * 24 }, (_, n): [number, number] => [n * hour, 1]);
  sum(summing, batchOf(old), 1, nowMs);
  expect(isFull(summing, true)).toBe(true);
  const { rows, left } = takeFull(summing, nowMs, false);
  expect(new Set(rows.map(({ stepMs }) => stepMs))).toEqual(new Set([hour]));
  expect(isFull(left, true)).toBe(false);
});
