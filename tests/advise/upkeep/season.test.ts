import { describe, expect, it } from "vitest";
import { seasonWork } from "../../../src/advise/upkeep/season.ts";
import { laidUp } from "../../../src/fleet/schedule.ts";
import type { ServiceRecord } from "../../../src/fleet/unit.ts";
import { unitOf } from "../../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, season: 04-01..11-15 }");
const at = (time: string): number => Date.parse(time);
const asked = (now: string, records: readonly ServiceRecord[] = []) =>
  seasonWork(laidUp(unit, "America/Chicago"), records, at(now));
const done = (work: ServiceRecord["work"], time: string): ServiceRecord => ({
  unit: "LM-01",
  work,
  step: "done",
  atMs: at(time),
});

describe("what a season asks for", () => {
  it("is laying up from a month before its last day has passed, by the fleet's clock", () => {
    expect(asked("2026-11-01T12:00:00Z")).toEqual({ work: "lay-up", onMs: at("2026-11-16T06:00:00Z") });
    expect(asked("2026-10-10T12:00:00Z")).toBeNull();
  });

  it("is laying up still where the season is over and it is not on record", () => {
    expect(asked("2026-11-20T12:00:00Z")).toMatchObject({ work: "lay-up" });
    expect(asked("2026-11-20T12:00:00Z", [done("lay-up", "2026-11-12T12:00:00Z")])).toBeNull();
    expect(asked("2026-11-20T12:00:00Z", [done("lay-up", "2025-11-12T12:00:00Z")])).not.toBeNull();
  });

  it("is starting up about its first day", () => {
    expect(asked("2026-03-20T12:00:00Z")).toEqual({ work: "start-up", onMs: at("2026-04-01T05:00:00Z") });
    expect(asked("2026-07-01T12:00:00Z")).toBeNull();
  });

  it("is nothing at a unit that runs all year", () => {
    expect(seasonWork(laidUp(unitOf(), "UTC"), [], at("2026-11-15T12:00:00Z"))).toBeNull();
  });
});
