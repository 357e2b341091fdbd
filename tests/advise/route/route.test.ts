import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  compareRoutes,
  countsOf,
  type Day,
  pressing,
  type Route,
  type Stop,
  walk,
} from "../../../src/advise/route/day.ts";
import { exactRoute } from "../../../src/advise/route/exact.ts";
import { searchedRoute } from "../../../src/advise/route/local-search.ts";
import { mostExact, routeOf } from "../../../src/advise/route/route.ts";

const usual: Stop = { units: ["due"], thereMin: 30, opensMin: 0, closesMin: 1440 };

/** Stops along a straight road, a minute from one milestone to the next; the day begins at milestone 0. */
function along(stops: readonly (Partial<Stop> & { readonly at: number })[], day: Partial<Day> = {}): Day {
  const at = [0, ...stops.map((stop) => stop.at)];
  return {
    stops: stops.map(({ at: _, ...stop }) => ({ ...usual, ...stop })),
    driveMin: at.map((a) => at.map((b) => Math.abs(a - b))),
    startMin: 480,
    untilMin: 1020,
    ...day,
  };
}

const orderOf = ({ visits }: Route): number[] => visits.map(({ stop }) => stop);
const keyOf = (day: Day, route: Route) => ({ counts: countsOf(day, orderOf(route)), ...route });

describe("the visits of a day", () => {
  it("go where somebody is needed now first, past others and for more driving", () => {
    const corners = [
      [0, 0],
      [0, 10],
      [10, 10],
      [10, 0],
    ];
    const day = along([{ at: 0 }, { at: 0, units: ["now"] }, { at: 0 }], {
      driveMin: corners.map(([x, y]) => corners.map(([toX, toY]) => Math.hypot(x - toX, y - toY))),
    });
    const { visits, driveMin } = routeOf(day);
    expect(visits[0].stop).toBe(1);
    expect(driveMin).toBeCloseTo(2 * (10 + Math.hypot(10, 10)), 9);
  });

  it("take another first where the gate of the urgent one is closed until then", () => {
    const day = along([{ at: 10 }, { at: 60, units: ["now"], opensMin: 600 }]);
    expect(orderOf(routeOf(day))).toEqual([0, 1]);
  });

  it("leave out what is least pressing where the day is too short", () => {
    const day = along([{ at: 5 }, { at: -40, units: ["soon"] }, { at: 6, units: ["early"] }], {
      untilMin: 610,
    });
    const { visits, left } = routeOf(day);
    expect([visits.map(({ stop }) => stop).sort(), left]).toEqual(
      [[1], [0, 2]].map((one) => expect.arrayContaining(one)),
    );
  });

  it("see to two units rather than to one where there is time for one place alone", () => {
    const day = along([{ at: 5 }, { at: -5, units: ["due", "due"], thereMin: 60 }], { untilMin: 550 });
    expect(orderOf(routeOf(day))).toEqual([1]);
  });

  it("begin and end within a place's working hours, and wait at its gate", () => {
    const day = along([{ at: 10, opensMin: 540, closesMin: 600 }]);
    expect(routeOf(day).visits).toEqual([{ stop: 0, arriveMin: 490, beginMin: 540, leaveMin: 570 }]);
    expect(routeOf(along([{ at: 10, opensMin: 540, closesMin: 560 }])).left).toEqual([0]);
  });

  it("drive past a closed gate rather than there and back", () => {
    const day = along([{ at: 10, opensMin: 560 }, { at: 30 }]);
    expect(orderOf(routeOf(day))).toEqual([1, 0]);
  });

  it("are over in time to be back", () => {
    expect(routeOf(along([{ at: 10 }], { untilMin: 530 })).backMin).toBe(530);
    expect(routeOf(along([{ at: 10 }], { untilMin: 529 })).visits).toEqual([]);
  });

  it("of more places than can be weighed all are told of", () => {
    const day = along(Array.from({ length: 60 }, (_, n) => ({ at: n - 30 })));
    const { visits, left, exact } = routeOf(day);
    expect([visits.length + left.length, exact]).toEqual([60, false]);
    expect(routeOf(along(Array.from({ length: mostExact }, (_, n) => ({ at: n })))).exact).toBe(true);
  });
});

const anyDay = fc
  .array(
    fc.record({
      x: fc.integer({ min: 0, max: 90 }),
      y: fc.integer({ min: 0, max: 90 }),
      units: fc
        .array(fc.constantFrom(...pressing), { minLength: 1, maxLength: 3 })
        .map((all) => all.toSorted((a, b) => pressing.indexOf(a) - pressing.indexOf(b))),
      thereMin: fc.integer({ min: 10, max: 60 }),
      opensMin: fc.integer({ min: 400, max: 700 }),
      closesMin: fc.integer({ min: 600, max: 1100 }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((stops): Day => {
    const at = [{ x: 45, y: 45 }, ...stops];
    return {
      stops,
      driveMin: at.map((a) => at.map((b) => Math.hypot(a.x - b.x, a.y - b.y))),
      startMin: 480,
      untilMin: 900,
    };
  });

function orders(items: readonly number[]): number[][] {
  return items.length === 0
    ? [[]]
    : items.flatMap((first) => orders(items.filter((one) => one !== first)).map((rest) => [first, ...rest]));
}

/** The best of all orders, each also without any of its stops. */
function bestOfAll(day: Day): ReturnType<typeof keyOf> {
  const subsets = Array.from({ length: 1 << day.stops.length }, (_, set) =>
    day.stops.map((_, stop) => stop).filter((stop) => set & (1 << stop)),
  );
  const all = subsets.flatMap(orders).map((order) => keyOf(day, walk(day, order)));
  return all.reduce((a, b) => (compareRoutes(b, a) < 0 ? b : a));
}

describe("whatever the places, their hours and their urgency", () => {
  it("no order of any of the stops is better than the exact route", () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        expect(compareRoutes(keyOf(day, exactRoute(day)), bestOfAll(day))).toBe(0);
      }),
      { numRuns: 60 },
    );
  });

  it("the search for many stops keeps to the hours and is never better than the exact route", () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        const found = searchedRoute(day);
        expect(compareRoutes(keyOf(day, found), keyOf(day, exactRoute(day)))).toBeGreaterThanOrEqual(0);
        for (const { stop, beginMin, leaveMin } of found.visits) {
          expect(beginMin).toBeGreaterThanOrEqual(day.stops[stop].opensMin);
          expect(leaveMin).toBeLessThanOrEqual(day.stops[stop].closesMin);
        }
        expect(found.backMin).toBeLessThanOrEqual(day.untilMin);
        expect([...orderOf(found), ...found.left].sort()).toEqual(day.stops.map((_, stop) => stop));
      }),
      { numRuns: 60 },
    );
  });
});
