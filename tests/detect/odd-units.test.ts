import { describe, expect, it } from "vitest";
import { ruleSettings } from "../../src/detect/rules.ts";
import { readFleet } from "../../src/fleet/read.ts";
import { but, clean, type Stretch, start, told, unitOf, type Values } from "../support/unit-days.ts";

const dry: Values = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5, ozone: 0 };
const nameplate = unitOf("{ id: LM-01, ozone: none, runs: always, motor: { full_load_current: 9.8 A } }");

describe("a log that starts in the middle of a fault", () => {
  it("a pump that runs unloaded without pressure has not primed, says the nameplate, though no baseline is known", () => {
    expect(told(nameplate, [{ seconds: 1800, values: but(dry) }])).toEqual([
      "00:05:10 raised failed-to-prime",
    ]);
  });

  it("a healthy pump of 9 kPa at four fifths of its nameplate has primed, though its pressure does not show it", () => {
    const low: Values = { motor_current: 7.9, discharge_pressure: 9, suction_pressure: -10 };
    expect(told(nameplate, [{ seconds: 7200, values: but(low) }])).toEqual([]);
  });

  it("without a nameplate nobody knows, and nothing is raised", () => {
    const bare = unitOf("{ id: LM-01, ozone: none }");
    expect(told(bare, [{ seconds: 1800, values: but(dry) }])).toEqual([]);
  });

  it("running dry is not learned as clean: when water comes, that is", () => {
    const later: Stretch[] = [
      { seconds: 2 * 3600, values: but(dry) },
      { seconds: 3600, values: clean },
      { seconds: 120, values: but(dry) },
    ];
    expect(told(nameplate, later).filter((line) => line.includes("raised"))).toEqual([
      "00:05:10 raised failed-to-prime",
      "03:00:30 raised lost-prime",
    ]);
  });
});

describe("a unit with few channels", () => {
  it("with the motor current alone a lost load is unusual, and standing still is told; nothing that it cannot see", () => {
    const only = (a: number): Stretch => ({ seconds: 3600, values: { motor_current: a } });
    expect(told(nameplate, [only(9.3), only(7.6), only(0)])).toEqual([
      "01:30:10 raised unusual-running",
      "02:00:00 cleared unusual-running",
      "02:00:30 raised not-running",
    ]);
  });
});

describe("a unit that never runs", () => {
  const resting: Stretch = {
    seconds: 86_400,
    values: { motor_current: 0, discharge_pressure: 0, motor_temperature: 20 },
  };

  it("raises nothing where nobody says that it should", () => {
    expect(told(unitOf("{ id: LM-01, ozone: none }"), [resting], 60)).toEqual([]);
    expect(told(unitOf("{ id: LM-01, ozone: none, runs: never }"), [resting], 60)).toEqual([]);
  });

  it("is not running, once, where it should", () => {
    expect(told(nameplate, [resting], 60)).toEqual(["00:01:00 raised not-running"]);
  });
});

describe("a baseline window in which it did not run", () => {
  it("leaves it without a baseline, and the rules that need one quiet", () => {
    const unit = unitOf("{ id: LM-01, ozone: none, baseline: { from: 2026-05-01T00:00:00Z, for: 2 h } }");
    const state = start(unit);
    const lines = told(unit, [
      { seconds: 7200, values: clean },
      { seconds: 600, values: but(dry) },
    ]);
    expect(lines).toEqual([]);
    expect(state.condition.baseline).toBeNull();
  });
});

describe("absurd settings", () => {
  it.each([
    ["lost-prime: { discharge_below: 7 }", "discharge_below"],
    ["overheating: { limit: 900 degC }", "limit"],
    ["cavitation: { unsteady: 0 }", "unsteady"],
    ["suction-air: { delay: -5 s }", "delay"],
    ["ozone-in-air: { limit: 5 }", "limit"],
  ])("%s: an error that names it", (limits, key) => {
    const read = readFleet(
      `units:\n  - { id: LM-01, limits: { ${limits} } }\n`,
      { path: "fleet.yaml", folder: "/" },
      ruleSettings,
    );
    expect("problems" in read && read.problems).toEqual([expect.stringContaining(key)]);
  });
});

describe("gauges that read whole kilopascals", () => {
  // A value a little over a half digit flickers between two digits now and then.
  const coarse =
    (values: Values): Stretch["values"] =>
    (second) => ({
      ...values,
      suction_pressure: Math.round((values.suction_pressure ?? 0) + 0.4 * Math.sin(second / 7)),
      discharge_pressure: Math.round((values.discharge_pressure ?? 0) + 0.4 * Math.sin(second / 11)),
      gas_pressure: Math.round((values.gas_pressure ?? 0) + 0.4 * Math.sin(second / 5)),
    });
  const quiet = {
    motor_current: 9.3,
    motor_temperature: 58,
    suction_pressure: -24.3,
    discharge_pressure: 86.3,
    gas_pressure: 110.2,
  };

  it("raise nothing by a flicker of their last digit, for a day", () => {
    const day: Stretch = {
      seconds: 86_400,
      values: coarse({ ...quiet, suction_pressure: -24.1, discharge_pressure: 86 }),
    };
    expect(told(nameplate, [{ seconds: 3600, values: coarse(quiet) }, day], 30)).toEqual([]);
  });

  it("still see gas that falls below the water, after a flicker", () => {
    const failed = coarse({ ...quiet, gas_pressure: 60 });
    const lines = told(nameplate, [
      { seconds: 3600, values: coarse(quiet) },
      { seconds: 1800, values: coarse(quiet) },
      { seconds: 300, values: failed },
    ]);
    expect(lines.some((line) => line.includes("raised gas-backflow-risk"))).toBe(true);
  });
});
