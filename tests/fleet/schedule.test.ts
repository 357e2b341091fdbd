import fc from "fast-check";
import { Temporal } from "temporal-polyfill";
import { describe, expect, test } from "vitest";
import { localClock } from "../../src/fleet/local-clock.ts";
import { laidUp, nextInSeason, wantedRunning } from "../../src/fleet/schedule.ts";
import type { RunSchedule } from "../../src/fleet/unit.ts";

const at = (text: string) => Date.parse(text);
const windows = (...of: [number, number][]): RunSchedule => ({
  kind: "windows",
  windows: of.map(([from, to]) => ({ from: from * 60, to: to * 60 })),
});

describe("whether a unit should run", () => {
  test("nobody says where the fleet file does not", () => {
    expect(wantedRunning({}, "UTC")(at("2026-05-01T12:00:00Z"))).toBe(2);
  });

  test("always and never need no clock", () => {
    expect(wantedRunning({ runs: { kind: "always" } }, "UTC")(0)).toBe(1);
    expect(wantedRunning({ runs: { kind: "never" } }, "UTC")(0)).toBe(0);
  });

  test("a window is of the fleet's wall clock, with ten minutes' grace at its start and none at its end", () => {
    const wanted = wantedRunning({ runs: windows([5.5, 21]) }, "America/Chicago");
    expect(wanted(at("2026-05-01T05:29:59-05:00"))).toBe(0);
    expect(wanted(at("2026-05-01T05:30:00-05:00"))).toBe(2);
    expect(wanted(at("2026-05-01T05:39:59-05:00"))).toBe(2);
    expect(wanted(at("2026-05-01T05:40:00-05:00"))).toBe(1);
    expect(wanted(at("2026-05-01T20:59:59-05:00"))).toBe(1);
    expect(wanted(at("2026-05-01T21:00:00-05:00"))).toBe(0);
  });

  test("a window may pass midnight", () => {
    const wanted = wantedRunning({ runs: windows([22, 4]) }, "UTC");
    expect(wanted(at("2026-05-01T21:59:59Z"))).toBe(0);
    expect(wanted(at("2026-05-01T22:10:00Z"))).toBe(1);
    expect(wanted(at("2026-05-02T00:00:00Z"))).toBe(1);
    expect(wanted(at("2026-05-02T03:59:59Z"))).toBe(1);
    expect(wanted(at("2026-05-02T04:00:00Z"))).toBe(0);
  });

  test("windows that meet, at noon or at midnight, are one running without a second grace", () => {
    const wanted = wantedRunning({ runs: windows([0, 12], [12, 24]) }, "UTC");
    expect(wanted(at("2026-05-01T12:00:00Z"))).toBe(1);
    expect(wanted(at("2026-05-02T00:00:00Z"))).toBe(1);
  });

  test("a window that begins in the skipped hour begins when the clock has sprung, with its grace", () => {
    const wanted = wantedRunning({ runs: windows([2.25, 5]) }, "America/New_York");
    expect(wanted(at("2024-03-10T06:59:59Z"))).toBe(0);
    expect(wanted(at("2024-03-10T07:00:00Z"))).toBe(2);
    expect(wanted(at("2024-03-10T07:10:00Z"))).toBe(1);
    expect(wanted(at("2024-03-10T09:00:00Z"))).toBe(0);
  });

  test("a window in the repeated hour comes twice", () => {
    const wanted = wantedRunning({ runs: windows([1.25, 1.75]) }, "America/New_York");
    expect(wanted(at("2024-11-03T05:30:00Z"))).toBe(1);
    expect(wanted(at("2024-11-03T05:50:00Z"))).toBe(0);
    expect(wanted(at("2024-11-03T06:30:00Z"))).toBe(1);
  });

  test("the answer does not depend on what was asked before", () => {
    const unit = { runs: windows([5.5, 21]), season: { from: 401, to: 1115 } };
    const one = wantedRunning(unit, "America/Chicago");
    const time = fc.integer({ min: at("2023-01-01T00:00:00Z"), max: at("2028-01-01T00:00:00Z") });
    fc.assert(
      fc.property(time, (timeMs) => {
        expect(one(timeMs)).toBe(wantedRunning(unit, "America/Chicago")(timeMs));
      }),
    );
  });
});

describe("the season", () => {
  test("runs from its first day through its last, by the wall clock", () => {
    const out = laidUp({ season: { from: 401, to: 1115 } }, "America/Chicago");
    expect(out(at("2026-03-31T23:59:59-05:00"))).toBe(true);
    expect(out(at("2026-04-01T00:00:00-05:00"))).toBe(false);
    expect(out(at("2026-11-15T23:59:59-06:00"))).toBe(false);
    expect(out(at("2026-11-16T00:00:00-06:00"))).toBe(true);
  });

  test("may pass the new year", () => {
    const out = laidUp({ season: { from: 1101, to: 331 } }, "UTC");
    expect(out(at("2026-12-31T12:00:00Z"))).toBe(false);
    expect(out(at("2027-02-01T12:00:00Z"))).toBe(false);
    expect(out(at("2027-07-01T12:00:00Z"))).toBe(true);
  });

  test("is all year where none is written", () => {
    expect(laidUp({}, "UTC")(at("2026-12-31T12:00:00Z"))).toBe(false);
  });

  test("outside it no unit should run, whatever its windows", () => {
    const season = { from: 401, to: 1115 };
    const january = at("2026-01-10T12:00:00Z");
    expect(wantedRunning({ season }, "UTC")(january)).toBe(0);
    expect(wantedRunning({ season, runs: { kind: "always" } }, "UTC")(january)).toBe(0);
  });

  test("begins with the grace of a window", () => {
    const wanted = wantedRunning({ season: { from: 401, to: 1115 }, runs: { kind: "always" } }, "UTC");
    expect(wanted(at("2026-04-01T00:09:59Z"))).toBe(2);
    expect(wanted(at("2026-04-01T00:10:00Z"))).toBe(1);
  });
});

describe("the next time in season", () => {
  const hourMs = 3_600_000;

  test("is now where the unit is in season, and else the first midnight of its season", () => {
    const next = nextInSeason({ season: { from: 401, to: 1115 } }, "America/Chicago");
    expect(next(at("2026-05-04T03:12:20Z"))).toBe(at("2026-05-04T03:12:20Z"));
    expect(next(at("2026-11-15T23:59:59.999-06:00"))).toBe(at("2026-11-15T23:59:59.999-06:00"));
    expect(next(at("2026-11-16T00:00:00-06:00"))).toBe(at("2027-04-01T00:00:00-05:00"));
    expect(next(at("2027-03-31T23:59:59-05:00"))).toBe(at("2027-04-01T00:00:00-05:00"));
  });

  test("is found over the new year, and asked again gives the same", () => {
    const next = nextInSeason({ season: { from: 1101, to: 331 } }, "UTC");
    for (let asked = 0; asked < 2; asked++) {
      expect(next(at("2027-01-15T12:00:00Z"))).toBe(at("2027-01-15T12:00:00Z"));
      expect(next(at("2027-04-01T08:30:00Z"))).toBe(at("2027-11-01T00:00:00Z"));
    }
  });

  test("never comes for a season that no year has", () => {
    const next = nextInSeason({ season: { from: 230, to: 230 } }, "UTC");
    expect(next(at("2026-05-04T00:00:00Z"))).toBe(Number.POSITIVE_INFINITY);
  });

  test("is the first full hour in season, whatever the season and the zone", () => {
    const date = fc
      .tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 28 }))
      .map(([month, dayOfMonth]) => month * 100 + dayOfMonth);
    const zone = fc.constantFrom("UTC", "America/Chicago", "Australia/Lord_Howe");
    const time = fc.integer({ min: at("2023-01-01T00:00:00Z"), max: at("2028-01-01T00:00:00Z") });
    fc.assert(
      fc.property(date, date, zone, time, (from, to, timezone, timeMs) => {
        const unit = { season: { from, to } };
        const out = laidUp(unit, timezone);
        const next = nextInSeason(unit, timezone)(timeMs);
        expect(out(next)).toBe(false);
        if (next === timeMs) return;
        expect(next % hourMs).toBe(0);
        expect(out(timeMs)).toBe(true);
        for (let before = next - hourMs; before >= timeMs; before -= 12 * hourMs)
          expect(out(before)).toBe(true);
      }),
    );
  });
});

test("the wall clock agrees with the zone's rules at any instant, asked in any order", () => {
  const zones = ["America/Chicago", "Australia/Lord_Howe", "Asia/Kathmandu", "Europe/Dublin", "UTC"];
  const clocks = new Map(zones.map((zone) => [zone, localClock(zone)]));
  const time = fc.integer({ min: at("1975-01-01T00:00:00Z"), max: at("2060-01-01T00:00:00Z") });
  fc.assert(
    fc.property(fc.constantFrom(...zones), time, (zone, timeMs) => {
      const plain = Temporal.Instant.fromEpochMilliseconds(timeMs).toZonedDateTimeISO(zone).toPlainDateTime();
      expect(clocks.get(zone)?.(timeMs)).toBe(at(`${plain.toString()}Z`));
    }),
    { numRuns: 300 },
  );
});
