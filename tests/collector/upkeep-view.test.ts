import { describe, expect, it } from "vitest";
import { viewUnit } from "../../src/collector/view.ts";
import type { FoulingTrend } from "../../src/detect/fouling-trend.ts";
import { stopsAhead } from "../../src/fleet/services.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import { hourClean, midnight, readings, run, start, unitOf } from "../support/unit-days.ts";

const day = 86_400_000;
const log = { files: [], rows: 0, repeats: 0, late: 0, rejected: 0, newestRejected: [] };
const yaml = "{ id: LM-01, service: { inspection_every: 30 d, cleaning_every: 14 d } }";

describe("what is due at a unit", () => {
  it("is counted from when it was last done, else from its first reading", () => {
    const state = start(unitOf(yaml));
    expect(viewUnit(state, { display: "si", timezone: "UTC" }, log, null, midnight).upkeep).toBeUndefined();
    const record = { unit: "LM-01", work: "cleaning", step: "done", atMs: midnight + 3_600_000 } as const;
    run(state, { kind: "readings", batch: readings([hourClean]) }, { kind: "service", record });
    expect(viewUnit(state, { display: "si", timezone: "UTC" }, log, null, midnight + day).upkeep).toEqual({
      works: [
        {
          work: "inspection",
          everyMs: 30 * day,
          dueMs: midnight + 30 * day,
          because: "interval",
          lastMs: null,
        },
        {
          work: "cleaning",
          everyMs: 14 * day,
          dueMs: record.atMs + 14 * day,
          because: "interval",
          lastMs: record.atMs,
        },
      ],
    });
  });

  it("is due by fouling where that comes first, but for fouling from before the last cleaning", () => {
    const state = start(unitOf(yaml));
    run(state, { kind: "readings", batch: readings([hourClean]) });
    const memory = state.rules.find(({ rule }) => rule.alarm === "gas-pressure-drift")?.memory;
    const dates = { dueMs: midnight + 5 * day, earliestMs: midnight + 4 * day, latestMs: midnight + 7 * day };
    const fouling = {
      atMs: midnight + day,
      growth: 0.2,
      growthPerDay: 0.02,
      outlastsCleaning: false,
      ...dates,
    };
    Object.assign(memory as FoulingTrend, { fouling });
    const cleaning = () => {
      const upkeep = viewUnit(
        state,
        { display: "si", timezone: "UTC" },
        log,
        null,
        midnight + 2 * day,
      ).upkeep;
      return [upkeep?.works[1].because, upkeep?.works[1].dueMs, upkeep?.drift?.latestMs];
    };
    expect(cleaning()).toEqual(["gas pressure", dates.dueMs, dates.latestMs]);
    state.upkeep.doneMs.cleaning = midnight + 1.5 * day;
    expect(cleaning()).toEqual(["interval", midnight + 15.5 * day, undefined]);
  });

  it("knows the stops that are planned, but for one that was taken back", () => {
    const stop = (atMs: number, untilMs: number): ServiceRecord => ({
      unit: "LM-01",
      work: "planned stop",
      step: "begin",
      atMs,
      untilMs,
    });
    const later = stop(midnight + 2 * day, midnight + 3 * day);
    const taken = stop(midnight + day, midnight + 2 * day);
    const back = stop(taken.atMs, taken.atMs + 1);
    expect(stopsAhead([taken, back, later], midnight)).toEqual([later]);
    expect(stopsAhead([later], midnight + 2 * day)).toEqual([]);
    const anew = stop(taken.atMs, midnight + 3 * day);
    expect(stopsAhead([taken, back, anew], midnight)).toEqual([anew]);
  });
});

describe("gaps in a unit's readings", () => {
  it("are those that would be told as stale, and a shorter silence is none", () => {
    const state = start(unitOf("{ id: LM-01, sample_interval: 10 s }"));
    const more = (fromMs: number) => readings([{ seconds: 300, values: {} }], 10, fromMs);
    run(state, { kind: "readings", batch: more(midnight) });
    run(state, { kind: "readings", batch: more(midnight + 330_000) });
    run(state, { kind: "readings", batch: more(midnight + 1200_000) });
    const { gaps } = viewUnit(state, { display: "si", timezone: "UTC" }, log, null, midnight + 1500_000);
    expect(gaps).toEqual({
      longerThanMs: 60_000,
      spans: [[midnight + 620_000, midnight + 1200_000]],
    });
  });
});
