import { describe, expect, it } from "vitest";
import { takeBack, withLapses } from "../../src/fleet/services.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import { lengthOf } from "../../src/report/intervals.ts";
import { requiredTime, stretchesOf } from "../../src/report/required.ts";
import { day, hour } from "../../src/terms/time.ts";
import { unitOf } from "../support/unit-days.ts";

const at = (text: string): number => Date.parse(text);

describe("the time in which a unit is required", () => {
  it("is its daily windows: an hour less on the day on which clocks go forward through one", () => {
    const unit = unitOf('{ id: LM-01, runs: ["00:00-06:00"] }', "America/Chicago");
    // Source: 8 March 2026, 02:00 to 03:00 CST is skipped in the United States (IANA time zone database).
    const hours = (fromMs: number) =>
      lengthOf(requiredTime(unit, "America/Chicago", { fromMs, toMs: fromMs + 12 * hour }, [])) / hour;
    expect(hours(at("2026-03-06T06:00:00Z"))).toBe(6);
    expect(hours(at("2026-03-08T06:00:00Z"))).toBe(5);
  });

  it("is all of the season where no window is written, without planned stops", () => {
    const unit = unitOf("{ id: LM-01, season: 04-01..11-15 }");
    const period = { fromMs: at("2026-11-10T00:00:00Z"), toMs: at("2026-11-20T00:00:00Z") };
    const stop = { fromMs: at("2026-11-12T06:00:00Z"), toMs: at("2026-11-12T18:00:00Z") };
    expect(lengthOf(requiredTime(unit, "UTC", period, [])) / day).toBe(6);
    expect(lengthOf(requiredTime(unit, "UTC", period, [stop])) / day).toBe(5.5);
    expect(requiredTime(unitOf("{ id: LM-01, runs: never }"), "UTC", period, [])).toEqual([]);
  });
});

const record = (step: ServiceRecord["step"], atMs: number, untilMs?: number): ServiceRecord => ({
  unit: "LM-01",
  work: "repair",
  step,
  atMs,
  ...(untilMs !== undefined && { untilMs }),
});
const lasts = (...records: ServiceRecord[]) => stretchesOf(withLapses(records), () => true, 100);

it("a service lasts to its end, to its lapse, or to the period's end", () => {
  expect(lasts(record("begin", 10, 50), record("end", 20))).toEqual([{ fromMs: 10, toMs: 20 }]);
  expect(lasts(record("begin", 10, 50))).toEqual([{ fromMs: 10, toMs: 50 }]);
  expect(lasts(record("begin", 10))).toEqual([{ fromMs: 10, toMs: 100 }]);
  expect(lasts(record("done", 10))).toEqual([]);
});

it("a service that was taken back was none, and what is begun after it counts from its own begin", () => {
  const begun = record("begin", 10, 50);
  const back = takeBack(begun, 20);
  expect(lasts(begun, back)).toEqual([]);
  expect(lasts(begun, back, record("begin", 21), record("end", 30))).toEqual([{ fromMs: 21, toMs: 30 }]);
  expect(lasts(record("begin", 10), takeBack(begun, 99))).toEqual([]);
});
