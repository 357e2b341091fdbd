import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type ActiveAt, commonCauses } from "../../src/assess/common-cause.ts";
import { hour, minute, second } from "../../src/terms/time.ts";

const nightMs = Date.UTC(2026, 4, 4, 8, 10);
const at = (unit: string, afterMs: number, over: Partial<ActiveAt> = {}): ActiveAt => ({
  unit,
  site: "Otter Pool",
  alarm: "readings-stale",
  sinceMs: nightMs + afterMs,
  everyMs: 10 * second,
  ...over,
});
const sites = new Map([
  ["Otter Pool", 6],
  ["Heron Bend", 2],
]);

describe("one common cause is likely", () => {
  test("where units of a site fall silent within minutes: power or the line", () => {
    const silent = [at("LM-03", 2 * minute), at("LM-01", 0), at("LM-02", minute), at("LM-04", 20 * minute)];
    expect(commonCauses(silent, sites)).toEqual([
      {
        site: "Otter Pool",
        alarm: "readings-stale",
        units: ["LM-01", "LM-02", "LM-03"],
        fromMs: nightMs,
        toMs: nightMs + 2 * minute,
        likely: "power or the line",
      },
    ]);
  });

  test("where a unit is read seldom, and was last read long before the others fell silent", () => {
    const silent = [
      at("LM-01", -14 * minute, { everyMs: 15 * minute }),
      at("LM-02", 0),
      at("LM-03", 3 * second),
    ];
    expect(commonCauses(silent, sites)).toHaveLength(1);
    expect(commonCauses([at("LM-01", -14 * minute), ...silent.slice(1)], sites)).toEqual([]);
  });

  test("where a frost comes over some hours", () => {
    const frost = ["LM-01", "LM-02", "LM-03"].map((unit, n) => at(unit, n * hour, { alarm: "freeze-risk" }));
    expect(commonCauses(frost, sites)).toMatchObject([
      { likely: "a frost", units: ["LM-01", "LM-02", "LM-03"] },
    ]);
  });

  test("at two units where the site has no more", () => {
    const two = [at("OP-1", 0, { site: "Heron Bend" }), at("OP-2", minute, { site: "Heron Bend" })];
    expect(commonCauses(two, sites)).toHaveLength(1);
  });
});

describe("none is likely", () => {
  test.each([
    ["two units of many", [at("LM-01", 0), at("LM-02", 0)]],
    ["units of different sites", [at("LM-01", 0), at("LM-02", 0), at("OP-1", 0, { site: "Heron Bend" })]],
    ["different alarms", [at("LM-01", 0), at("LM-02", 0), at("LM-03", 0, { alarm: "freeze-risk" })]],
    [
      "an alarm of the unit's own, such as a worn impeller",
      ["LM-01", "LM-02", "LM-03"].map((unit) => at(unit, 0, { alarm: "impeller-fouled" })),
    ],
  ])("of %s", (_, active) => {
    expect(commonCauses(active, sites)).toEqual([]);
  });
});

test("a fleet of which nothing is new, as many recordings are, is looked at well within a second", () => {
  const silent = Array.from({ length: 2000 }, (_, n) => at(`LM-${n}`, n * 110 * second));
  const startMs = performance.now();
  // Each with the two after it: 5 min and its sample interval hold no more.
  expect(commonCauses(silent, sites)).toHaveLength(666);
  expect(performance.now() - startMs).toBeLessThan(400);
});

test("no alarm is in two groups, and each group is of one site and one alarm", () => {
  const active = fc.record({
    unit: fc.constantFrom("a", "b", "c", "d", "e", "f"),
    site: fc.constantFrom("Otter Pool", "Heron Bend"),
    alarm: fc.constantFrom("readings-stale" as const, "lost-prime" as const),
    sinceMs: fc.integer({ min: 0, max: 40 }).map((minutes) => minutes * minute),
    everyMs: fc.constantFrom(0, minute),
  });
  const key = ({ unit, site, alarm }: ActiveAt): string => `${unit} ${site} ${alarm}`;
  fc.assert(
    fc.property(fc.uniqueArray(active, { selector: key, maxLength: 40 }), (all) => {
      const found = commonCauses(all, sites);
      const grouped = found.flatMap(({ units, ...cause }) =>
        units.map((unit) => key({ ...all[0], ...cause, unit })),
      );
      expect(new Set(grouped).size).toBe(grouped.length);
      for (const one of grouped) expect(all.map(key)).toContain(one);
    }),
  );
});
