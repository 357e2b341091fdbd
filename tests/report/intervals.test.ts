import fc from "fast-check";
import { expect, it } from "vitest";
import { difference, type Interval, intersection, lengthOf, union } from "../../src/report/intervals.ts";

const intervals = fc.array(
  fc.record({ fromMs: fc.integer({ min: 0, max: 50 }), toMs: fc.integer({ min: 0, max: 50 }) }),
  { maxLength: 8 },
);
const has = (all: readonly Interval[], ms: number): boolean =>
  all.some(({ fromMs, toMs }) => ms >= fromMs && ms < toMs);

it("union, intersection and difference hold at every moment, and what they give overlaps nowhere", () => {
  fc.assert(
    fc.property(intervals, intervals, (a, b) => {
      const both = intersection(a, b);
      const rest = difference(a, b);
      for (let ms = 0; ms < 50; ms++) {
        expect(has(union(a), ms)).toBe(has(a, ms));
        expect(has(both, ms)).toBe(has(a, ms) && has(b, ms));
        expect(has(rest, ms)).toBe(has(a, ms) && !has(b, ms));
      }
      expect(lengthOf(both) + lengthOf(rest)).toBe(lengthOf(union(a)));
    }),
  );
});
