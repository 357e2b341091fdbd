import { describe, expect, it } from "vitest";
import { differencesFrom, isConfirmed } from "../../src/condition/commissioning.ts";
import type { Baseline } from "../../src/condition/features.ts";
import { ruleSettings } from "../../src/detect/rules.ts";
import { readFleet } from "../../src/fleet/read.ts";
import { type Channel, channels } from "../../src/terms/channels.ts";
import { unitOf } from "../support/unit-days.ts";

/** A provisional baseline with these centres, and a spread of a hundredth. */
function learned(centres: Partial<Record<Channel, number>>, spread?: number): Baseline {
  return {
    fromMs: 0,
    toMs: 1_800_000,
    readings: 180,
    confirmed: false,
    signals: channels.map((channel) => {
      const center = centres[channel];
      return center === undefined ? null : { center, spread: spread ?? Math.abs(center) / 100 };
    }),
    together: null,
    ozoneOffSpellMs: null,
  };
}
const withRecord = (record: string) => unitOf(`{ id: LM-01, commissioning: { on: 2026-05-01, ${record} } }`);
const differing = (record: string, baseline: Baseline) =>
  differencesFrom(withRecord(record), baseline)?.map(({ channel }) => channel);

describe("a baseline held against the commissioning record", () => {
  const record =
    "motor_current: 9.1 A, suction_pressure: -24 kPa, discharge_pressure: 86 kPa, gas_pressure: 30 kPa";
  const clean = { motor_current: 9.3, suction_pressure: -25, discharge_pressure: 84, gas_pressure: 29 };

  it("is confirmed where it agrees with every value", () => {
    expect(isConfirmed(withRecord(record), learned(clean))).toBe(true);
    expect(isConfirmed(withRecord("motor_current: 9.1 A"), learned(clean))).toBe(true);
  });

  it("stays provisional where one channel differs, and that is named with both values", () => {
    const clogged = learned({ ...clean, discharge_pressure: 71, suction_pressure: -40 });
    expect(isConfirmed(withRecord(record), clogged)).toBe(false);
    expect(differencesFrom(withRecord(record), clogged)).toEqual([
      { channel: "suction_pressure", recorded: -24, learned: -40 },
      { channel: "discharge_pressure", recorded: 86, learned: 71 },
    ]);
  });

  it("bears what an acceptance test and two panel gauges allow: 10 %, no more", () => {
    // ISO 9906:2012 table 8, grade 2B: ± 5 % of head, ± 8 % of flow.
    expect(differing("discharge_pressure: 100 kPa", learned({ discharge_pressure: 95 }))).toEqual([]);
    expect(differing("flow: 100 L/min", learned({ flow: 92 }))).toEqual([]);
    expect(differing("discharge_pressure: 100 kPa", learned({ discharge_pressure: 90 }))).toEqual([]);
    expect(differing("discharge_pressure: 100 kPa", learned({ discharge_pressure: 89.9 }))).toEqual([
      "discharge_pressure",
    ]);
  });

  it("bears a pond half a metre lower, and a motor of another season", () => {
    // 0.5 m of water are 4.9 kPa.
    expect(differing("suction_pressure: -12 kPa", learned({ suction_pressure: -16.9 }))).toEqual([]);
    expect(differing("suction_pressure: -12 kPa", learned({ suction_pressure: -17.1 }))).toEqual([
      "suction_pressure",
    ]);
    expect(differing("motor_temperature: 50 degC", learned({ motor_temperature: 64 }))).toEqual([]);
    expect(differing("motor_temperature: 50 degC", learned({ motor_temperature: 66 }))).toEqual([
      "motor_temperature",
    ]);
  });

  it("bears what a coarse gauge cannot resolve: two spreads", () => {
    expect(differing("gas_pressure: 3 kPa", learned({ gas_pressure: 4 }, 0.5))).toEqual([]);
    expect(differing("gas_pressure: 3 kPa", learned({ gas_pressure: 4 }, 0.4))).toEqual(["gas_pressure"]);
  });

  it("cannot agree with a channel that the log lacks", () => {
    expect(differencesFrom(withRecord("motor_current: 9.1 A, flow: 110 L/min"), learned(clean))).toEqual([
      { channel: "flow", recorded: 110, learned: null },
    ]);
  });

  it("is confirmed by nothing where there is no record", () => {
    expect(differencesFrom(unitOf(), learned(clean))).toBeNull();
    expect(isConfirmed(unitOf(), learned(clean))).toBe(false);
    expect(isConfirmed(unitOf(), { ...learned(clean), confirmed: true })).toBe(true);
  });
});

describe("the commissioning record in a fleet file", () => {
  it("takes quantities in any unit", () => {
    const { commissioning } = unitOf(
      "{ id: A, commissioning: { discharge_pressure: 12 psi, gas_flow: 2 L/min } }",
    );
    expect(commissioning?.values.discharge_pressure).toBeCloseTo(82.737, 3);
    expect(commissioning).toMatchObject({ on: undefined, values: { gas_flow: 2 } });
  });

  it.each([
    ["{ on: 2026-02-30, motor_current: 9 A }", "'2026-02-30' is not a day; write 2026-05-01"],
    ["{ on: 2026-05-01 }", "it holds no reading; write at least one, such as motor_current: 9.1 A"],
    ["{ motor_current: 9 kPa }", "'9 kPa' is not a current; write 9.8 A"],
    [
      "{ motor_curent: 9 A, discharge_pressure: 80 kPa }",
      "this key is not known; the nearest is motor_current",
    ],
  ])("%s: an error that says what to write", (record, problem) => {
    const text = `units:\n  - { id: LM-01, commissioning: ${record} }\n`;
    const read = readFleet(text, { path: "fleet.yaml", folder: "/" }, ruleSettings);
    expect("problems" in read && read.problems).toEqual([expect.stringContaining(problem)]);
  });
});
