import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeUnit, encodeUnit } from "../../src/collector/checkpoint.ts";
import type { FoulingTrend } from "../../src/detect/fouling-trend.ts";
import { gasDriftSeen } from "../../src/detect/gas-drift-seen.ts";
import type { DriftSettings } from "../../src/detect/gas-pressure-drift.ts";
import type { RuleState } from "../../src/engine/unit-state.ts";
import type { UnitState } from "../../src/engine.ts";
import type { Finding } from "../../src/terms/events.ts";
import { cutAt, cuts } from "../support/random-logs.ts";
import {
  clean,
  midnight,
  readings,
  run,
  type Stretch,
  start,
  unitOf,
  type Values,
  wobble,
} from "../support/unit-days.ts";

const unit = unitOf();
const day = 86_400;

/** Days of running, a reading every ten minutes, of gas and water as they are by the days since the beginning. */
function days(many: number, change: (days: number, second: number) => Values): Stretch {
  return { seconds: many * day, values: (s) => ({ ...clean(s), ...change(s / day, s) }) };
}

/** Constant flow: the gas stands above the water by what the injector takes, clean 24 kPa above 86. */
function gasOver(water: number, overKPa: number, second: number): Values {
  const noise = 0.3 * wobble(second, "gas_flow");
  return { discharge_pressure: water + 0.8 * wobble(second, "flow"), gas_pressure: water + overKPa + noise };
}
const risingBy = (perDay: number) => (d: number, s: number) =>
  gasOver(86, 24 + 110 * perDay * Math.max(0, d - 1), s);
/** Warm afternoons and cool nights move everything by two per cent. */
const dayCycle = (d: number, s: number) => gasOver(86 * (1 + 0.02 * Math.sin(2 * Math.PI * d)), 24, s);

function drift(stretches: readonly Stretch[], at = unit): Finding[] {
  const findings = run(start(at), { kind: "readings", batch: readings(stretches, 600) });
  return findings.filter(({ alarm }) => alarm === "gas-pressure-drift");
}
/** What came and went; its priority changes as the date comes near. */
const cameAndWent = (findings: readonly Finding[]) =>
  findings.map(({ event }) => event).filter((event) => event !== "priority-changed");
const dayOf = ({ timeMs }: Finding) => (timeMs - midnight) / 1000 / day;

describe("gas pressure drift", () => {
  it("of 3 % a day is found within four days, with the date at which cleaning is due", () => {
    const [found] = drift([days(6, risingBy(0.03))]);
    expect(found).toMatchObject({ event: "raised" });
    expect(dayOf(found)).toBeLessThan(5);
    // A quarter of 110 kPa, from 5 May on: 5 May + 25 / 3 d is 13 May.
    expect(found.message).toMatch(/cleaning is due about 2026-05-1[2-4] \(/);
  });

  it("is seen as points from near the clean pressure upward, with the forecast that its alarm rests on", () => {
    const state = start(unit);
    const findings = run(state, { kind: "readings", batch: readings([days(6, risingBy(0.03))], 600) });
    const rule = state.rules.find((one) => one.rule.alarm === "gas-pressure-drift");
    const { memory, settings } = rule as RuleState;
    const seen = gasDriftSeen(
      unit,
      state.condition.firstBaseline,
      memory as FoulingTrend,
      settings as DriftSettings,
    );
    expect(seen?.channel).toBe("gas_pressure");
    expect(seen?.clean).toBeCloseTo(110, 0);
    expect(seen?.limit).toBeCloseTo(1.25 * 110, 0);
    // 3 % of 110 kPa a day from the second day on, so 13.2 kPa in the last four of six days.
    const [first, last] = [seen?.points[0], seen?.points.at(-1)];
    const perDay =
      ((last?.value ?? 0) - (first?.value ?? 0)) /
      (((last?.timeMs ?? 0) - (first?.timeMs ?? 0)) / 86_400_000);
    expect(perDay).toBeCloseTo(3.3, 0);
    expect(seen?.forecast?.value).toBe(last?.value);
    // A quarter of 110 kPa at that rate from 5 May on.
    const dueDay = ((seen?.forecast?.dueMs ?? 0) - midnight) / 86_400_000;
    expect(Math.abs(dueDay - (1 + 25 / 3))).toBeLessThan(1);
    expect(seen?.forecast?.earliestMs).toBeLessThanOrEqual(seen?.forecast?.dueMs ?? 0);
    expect(findings.some(({ alarm }) => alarm === "gas-pressure-drift")).toBe(true);
    run(state, {
      kind: "service",
      record: { unit: unit.id, work: "cleaning", step: "done", atMs: midnight + 6 * 86_400_000 },
    });
    expect(
      gasDriftSeen(unit, state.condition.firstBaseline, memory as FoulingTrend, settings as DriftSettings),
    ).toBeNull();
  });

  it("of 1 % a day is found within eight days", () => {
    const [found] = drift([days(10, risingBy(0.01))]);
    expect(found).toMatchObject({ event: "raised", priority: "prompt" });
    expect(dayOf(found)).toBeLessThan(9);
  });

  it("is low from a week before its limit, and medium past it", () => {
    const findings = drift([days(22, (d, s) => gasOver(86, 24 + 110 * 0.0125 * d, s))]);
    expect(findings.map(({ event, priority }) => `${event} ${priority}`)).toEqual([
      "raised prompt",
      "priority-changed low",
      "priority-changed medium",
    ]);
    expect(dayOf(findings[1])).toBeCloseTo(13, 0);
    expect(dayOf(findings[2])).toBeCloseTo(20, 0);
    expect(findings[2]?.message).toContain("past its limit of 137");
  });

  it("ends with a cleaning on record, and the first baseline stays", () => {
    const state = start(unit);
    const fouls = readings([days(6, risingBy(0.03))], 600);
    const cleaning = {
      unit: "LM-01",
      work: "cleaning",
      step: "done",
      atMs: midnight + 6 * day * 1000 - 1,
    } as const;
    const after = readings(
      [days(5, (d, s) => gasOver(86, 24 + 110 * 0.03 * d, s))],
      600,
      midnight + 6 * day * 1000,
    );
    const told = run(
      state,
      { kind: "readings", batch: fouls },
      { kind: "service", record: cleaning },
      { kind: "readings", batch: after },
    ).filter(({ alarm }) => alarm === "gas-pressure-drift");
    const changes = told.filter(({ event }) => event !== "priority-changed");
    expect(changes.map(({ event }) => event)).toEqual(["raised", "cleared", "raised"]);
    expect(changes[1]?.timeMs).toBe(cleaning.atMs);
    expect(changes[2]?.evidence.gas_pressure?.baseline).toBeCloseTo(110, 0);
  });

  const cleanedAfter = (many: number, perCent: number, then: number) => {
    const state = start(unit);
    const level = (share: number) => (_d: number, s: number) => gasOver(86, 24 + 110 * share, s);
    const first = days(many, (d, s) => level(d < 1 ? 0 : perCent / 100)(d, s));
    const endMs = midnight + many * day * 1000;
    const record = { unit: "LM-01", work: "cleaning", step: "done", atMs: endMs - 1 } as const;
    const told = run(
      state,
      { kind: "readings", batch: readings([first], 600) },
      { kind: "service", record },
      { kind: "readings", batch: readings([days(1, level(then / 100))], 600, endMs) },
    ).filter(({ alarm, timeMs }) => alarm === "gas-pressure-drift" && timeMs >= endMs);
    return told;
  };

  it("says after two hours of running that a cleaning did not bring the pressure back", () => {
    const [found, ...more] = cleanedAfter(4, 15, 14);
    expect(found).toMatchObject({ event: "raised", priority: "low" });
    expect(dayOf(found)).toBeLessThan(4.25);
    expect(found?.message).toMatch(
      /^Gas pressure at like running rose from 110.* to 125.* kPa\. The recorded cleaning did not bring it back\.$/,
    );
    expect(more).toEqual([]);
  });

  it("has nothing to say of a cleaning that halved the growth, nor of one of a line that was clean", () => {
    expect(cleanedAfter(4, 15, 7)).toEqual([]);
    expect(cleanedAfter(4, 4, 4)).toEqual([]);
  });

  it("is found at a low head too, where the pond has fallen by a hand's breadth", () => {
    const low = (d: number, s: number) => gasOver(d < 1 ? 20 : 17.5, 24 + 44 * 0.05 * Math.max(0, d - 1), s);
    expect(drift([days(9, low)]).map(({ event }) => event)).toContain("raised");
  });

  it("ends without a record where somebody has cleaned the line all the same", () => {
    const stretches = [days(6, risingBy(0.03)), days(2, (_d, s) => gasOver(86, 24, s))];
    expect(cameAndWent(drift(stretches))).toEqual(["raised", "cleared"]);
  });

  it("is not raised by warm days and cool nights, nor by a pond that falls", () => {
    expect(drift([days(12, dayCycle)])).toEqual([]);
    expect(drift([days(12, (d, s) => gasOver(86 - 0.4 * d, 24, s))])).toEqual([]);
  });

  it("is not raised by a generator that blocks up: the gas rises as the water's pressure does", () => {
    expect(drift([days(12, (d, s) => gasOver(86 + 0.8 * d, 24, s))])).toEqual([]);
  });

  it("is not raised by gas that stays while the strainer clogs and the water's pressure falls", () => {
    expect(drift([days(12, (d, s) => ({ ...gasOver(86 - 0.6 * d, 24, s), gas_pressure: 110 }))])).toEqual([]);
  });

  it("ends where the line is cleaned, unrecorded, far below a baseline that was taken foul", () => {
    const below = (_d: number, s: number) => gasOver(86, 24 - 110 * 0.14, s);
    expect(cameAndWent(drift([days(6, risingBy(0.03)), days(3, below)])).at(-1)).toBe("cleared");
  });

  it("stays where one point is low and the next are not: nobody has cleaned the line for two hours", () => {
    const rises = (d: number, s: number) =>
      gasOver(86, 24 + 110 * (d > 5.5 && d < 5.58 ? 0 : 0.03 * Math.max(0, d - 1)), s);
    expect(cameAndWent(drift([days(8, rises)]))).toEqual(["raised"]);
  });

  it("is found days before its limit at a unit that runs at ever other hours of the day", () => {
    const shifting = (d: number, s: number): Values => {
      const begins = Math.floor(10 + 10 * wobble(Math.floor(d), "flow"));
      const hour = 24 * (d % 1);
      const still = {
        motor_current: 0,
        discharge_pressure: 0.5,
        suction_pressure: -1,
        gas_pressure: 60,
        ozone: 0,
      };
      const runs = d < 1 || (hour >= begins && hour < begins + 4);
      return runs ? gasOver(86, 24 + 110 * 0.012 * Math.max(0, d - 1), s) : still;
    };
    const [found] = drift([days(14, shifting)]);
    expect(found).toMatchObject({ event: "raised", priority: "prompt" });
    expect(dayOf(found)).toBeLessThan(9);
  });

  it("is not raised by a water thermometer that is lost while the water is warm", () => {
    const warm = (d: number, s: number): Values => {
      const water = 10 + Math.min(13, Math.max(0, d - 1)) + 0.5 * Math.sin(d);
      const gas = gasOver(86, 24 + 110 * 0.0034 * (water - 10), s);
      return d < 20 ? { ...gas, water_temperature: water } : gas;
    };
    expect(drift([days(30, warm)])).toEqual([]);
  });

  it("shows in the gas flow where a regulator holds the pressure, and is quiet where that is not measured", () => {
    const regulated = unitOf("{ id: LM-01, gas: { feed: regulated } }");
    const flow = (d: number, s: number): Values => ({
      ...gasOver(86, 24, s),
      gas_flow: 6 * (1 - 0.03 * Math.max(0, d - 1)) + 0.02 * wobble(s, "voltage"),
    });
    const [found] = drift([days(6, flow)], regulated);
    expect(found?.message).toMatch(
      /^Gas flow at like running fell from 6 L\/min to 5\.\d L\/min, by .* % a day/,
    );
    expect(drift([days(6, risingBy(0.03))], regulated)).toEqual([]);
  });

  it("is found where the rise is curved, and told once: fouling that rests for days is still there", () => {
    const rests = (d: number, s: number) => gasOver(86, 24 + 14 * (1 - Math.exp(-d / 2)), s);
    expect(drift([days(14, rests)]).map(({ event }) => event)).toEqual(["raised"]);
  });

  it("is found before its limit where a regulated flow falls ever more slowly", () => {
    const regulated = unitOf("{ id: LM-01, gas: { feed: regulated } }");
    const falls = (d: number, s: number): Values => ({
      ...gasOver(86, 24, s),
      gas_flow: 6 / Math.sqrt(1 + 0.17 * Math.max(0, d - 1)) + 0.005 * wobble(s, "voltage"),
    });
    expect(drift([days(8, falls)], regulated)[0]?.evidence.growth?.value).toBeLessThan(20);
  });

  it("says its date anew as the days pass, without an event", () => {
    const state = start(unit);
    const [raised] = run(state, { kind: "readings", batch: readings([days(8, risingBy(0.02))], 600) });
    const now = state.lives.find(({ alarm }) => alarm === "gas-pressure-drift")?.message;
    expect(raised?.alarm).toBe("gas-pressure-drift");
    expect(now).toMatch(/ to 12[45]\.?\d* kPa, by 2 % a day/);
    expect(raised?.message).not.toBe(now);
  });

  it("is over where half of it is gone, and not raised by what one day brings nor by what is months away", () => {
    const half = (_d: number, s: number) => gasOver(86, 24 + 110 * 0.04, s);
    expect(cameAndWent(drift([days(6, risingBy(0.03)), days(3, half)]))).toEqual(["raised", "cleared"]);
    const oneDay = (d: number, s: number) =>
      gasOver(86, 24 + 110 * (d > 1 && d < 2.1 ? 0.03 * (d - 1) : 0), s);
    expect(drift([days(4, oneDay)])).toEqual([]);
    const firstDay = (d: number, s: number) => gasOver(86, 24 + 110 * 0.04 * Math.min(d, 2.2 - d), s);
    expect(drift([days(2, firstDay)])).toEqual([]);
    const slow = (d: number, s: number) => gasOver(86, 24 + 110 * (d < 1 ? 0 : 0.025 + 0.001 * d), s);
    expect(drift([days(14, slow)])).toEqual([]);
  });

  it("is not raised by a regulated feed that stops, nor by one that gives less: that is another fault", () => {
    const regulated = unitOf("{ id: LM-01, gas: { feed: regulated } }");
    const weak = (d: number, s: number): Values => {
      const over = d < 1 ? 24 : 10;
      return { ...gasOver(86, over, s), gas_flow: (d < 1 ? 6 : 3.9) + 0.02 * wobble(s, "voltage") };
    };
    expect(drift([days(6, weak)], regulated)).toEqual([]);
  });

  it("is due at a pressure that the fleet file gives", () => {
    const given = unitOf("{ id: LM-01, limits: { gas-pressure-drift: { pressure_limit: 120 kPa } } }");
    const findings = drift([days(6, risingBy(0.03))], given);
    expect(findings.at(-1)).toMatchObject({ priority: "medium" });
    expect(findings.at(-1)?.message).toContain("past its limit of 120 kPa");
  });

  it("is told the same, and restated the same, however the log is split and where the program starts again", () => {
    const batch = readings([days(9, (d, s) => gasOver(86, 24 + 110 * 0.03 * d, s))], 600);
    const whole = start(unit);
    const told = run(whole, { kind: "readings", batch });
    const message = (state: UnitState) =>
      state.lives.find(({ alarm }) => alarm === "gas-pressure-drift")?.message;
    fc.assert(
      fc.property(cuts, (places) => {
        let state = start(unit);
        const findings: Finding[] = [];
        for (const part of cutAt(batch, places)) {
          findings.push(...run(state, { kind: "readings", batch: part }));
          state = decodeUnit(unit, { timezone: "UTC" }, encodeUnit(state)).state;
        }
        expect(findings).toEqual(told);
        expect(message(state)).toBe(message(whole));
      }),
      { numRuns: 20 },
    );
    expect(told.map(({ event }) => event)).toContain("priority-changed");
  });
});
