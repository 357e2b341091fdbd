import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pressing } from "../../../src/advise/route/day.ts";
import { exactRoute } from "../../../src/advise/route/exact.ts";
import { type Outing, staysOf, type WantedPlace } from "../../../src/advise/route/stays.ts";

const open = { opensMin: 0, closesMin: 1440 };

/** Places along a straight road, a minute from one milestone to the next; 45 min a unit, the day begins at milestone 0 at 08:00. */
function along(
  places: readonly (Partial<WantedPlace> & Pick<WantedPlace, "units"> & { readonly at: number })[],
  day: Partial<Outing> = {},
): Outing {
  const at = [0, ...places.map((place) => place.at)];
  return {
    places: places.map(({ at: _, ...place }) => ({ ...open, ...place })),
    driveMin: at.map((a) => at.map((b) => Math.abs(a - b))),
    atUnitMin: 45,
    startMin: 480,
    untilMin: 1020,
    ...day,
  };
}

const seen = (outing: Outing) => staysOf(outing).stays.map(({ place, units }) => [place, units]);

describe("a place whose units are not equally pressing", () => {
  const near = { at: 10, units: ["soon", "early", "early"] } as const;

  it("is driven to once, as soon as the most pressing wants it, and all is done there", () => {
    const outing = along([near, { at: -10, units: ["now", "due"] }]);
    const { stays, driveMin, exact } = staysOf(outing);
    expect([seen(outing), driveMin, exact]).toEqual([
      [
        [1, 2],
        [0, 3],
      ],
      40,
      true,
    ]);
    expect(stays[0]).toMatchObject({ beginMin: 490, leaveMin: 580 });
  });

  it("keeps nobody there for what can wait where the day is too short for what cannot elsewhere", () => {
    // Until 10:40 there is time for two units, and for a third with 20 min to spare without the second drive.
    expect(seen(along([near, { at: -10, units: ["soon"] }], { untilMin: 640 }))).toEqual(
      expect.arrayContaining([
        [0, 1],
        [1, 1],
      ]),
    );
    expect(seen(along([near, { at: -10, units: ["soon"] }], { untilMin: 660 }))).toEqual(
      expect.arrayContaining([
        [0, 2],
        [1, 1],
      ]),
    );
  });

  it("is left when its gate closes, with those units seen for which there was time", () => {
    expect(seen(along([{ ...near, opensMin: 540, closesMin: 630 }]))).toEqual([[0, 2]]);
    expect(seen(along([{ ...near, opensMin: 540, closesMin: 580 }]))).toEqual([]);
  });
});

const anyOuting = fc
  .array(
    fc.record({
      at: fc.integer({ min: -60, max: 60 }),
      units: fc
        .array(fc.constantFrom(...pressing), { minLength: 1, maxLength: 3 })
        .map((all) => all.toSorted((a, b) => pressing.indexOf(a) - pressing.indexOf(b))),
      opensMin: fc.integer({ min: 400, max: 600 }),
      closesMin: fc.integer({ min: 620, max: 1100 }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .chain((places) => fc.integer({ min: 560, max: 1020 }).map((untilMin) => along(places, { untilMin })));

it("whatever the day, a place is driven to once, within its hours, and no unit is wrong now for which there was time", () => {
  fc.assert(
    fc.property(anyOuting, (outing) => {
      const { places, atUnitMin, untilMin } = outing;
      const { stays, backMin } = staysOf(outing);
      expect(new Set(stays.map(({ place }) => place)).size).toBe(stays.length);
      for (const { place, units, beginMin, leaveMin } of stays) {
        expect(units).toBeGreaterThan(0);
        expect(units).toBeLessThanOrEqual(places[place].units.length);
        expect(beginMin).toBeGreaterThanOrEqual(places[place].opensMin);
        expect(leaveMin).toBe(beginMin + units * atUnitMin);
        expect(leaveMin).toBeLessThanOrEqual(places[place].closesMin);
      }
      expect(backMin).toBeLessThanOrEqual(untilMin);
      const urgent = (units: readonly string[]): number => units.filter((one) => one === "now").length;
      const met = stays.reduce(
        (sum, { place, units }) => sum + urgent(places[place].units.slice(0, units)),
        0,
      );
      const alone = exactRoute({
        ...outing,
        stops: places.map(({ units, ...hours }) => ({
          ...hours,
          units: units.filter((one) => one === "now"),
          thereMin: urgent(units) * atUnitMin,
        })),
      });
      const could = alone.visits.reduce((sum, { stop }) => sum + urgent(places[stop].units), 0);
      expect(met).toBeGreaterThanOrEqual(could);
    }),
    { numRuns: 60 },
  );
});
