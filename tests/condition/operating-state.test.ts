import { describe, expect, it } from "vitest";
import { conditionStretches, spells } from "../support/conditioned.ts";
import { dry, stopped } from "../support/fleets.ts";
import { but, clean, hourClean, type Stretch, unitOf, type Values } from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, motor: { full_load_current: 10 A } }");
const stop = (seconds: number): Stretch => ({ seconds, values: stopped });
const run = (seconds: number): Stretch => ({ seconds, values: clean });
const priming = (seconds: number): Stretch => ({ seconds, values: but(dry) });
const current = (values: readonly number[]): Stretch => ({
  seconds: values.length * 10,
  values: (s) => ({ ...stopped, motor_current: values[s / 10] }),
});
const without = (stretch: Stretch, ...channels: (keyof Values)[]): Stretch => ({
  seconds: stretch.seconds,
  values: (s) => {
    const values = { ...(typeof stretch.values === "function" ? stretch.values(s) : stretch.values) };
    for (const channel of channels) delete values[channel];
    return values;
  },
});

describe("a motor's start and stop", () => {
  it("are seen by its current; a start primes until pressure has held for two readings", () => {
    const seen = conditionStretches(unit, [stop(600), priming(120), run(600), stop(600)]);
    expect(spells(seen)).toEqual([
      "00:00:00 stopped",
      "00:10:00 priming",
      "00:12:10 running",
      "00:22:00 stopped",
    ]);
  });

  it("are counted from, where they were seen", () => {
    const { sinceStartS, sinceStopS } = conditionStretches(unit, [stop(60), run(60), stop(60)]);
    expect(sinceStartS.slice(0, 13)).toEqual([
      ...Array(6).fill(Number.NaN),
      0,
      10,
      20,
      30,
      40,
      50,
      Number.NaN,
    ]);
    expect(sinceStopS.slice(0, 12)).toEqual(Array(12).fill(Number.NaN));
    expect(sinceStopS.slice(12)).toEqual([0, 10, 20, 30, 40, 50]);
  });

  it("of a run that was under way when the log begins count from there: it has lasted at least so long", () => {
    const { states, sinceStartS } = conditionStretches(unit, [run(600)]);
    expect(states.slice(0, 3)).toEqual(["priming", "running", "running"]);
    expect(sinceStartS.slice(0, 3)).toEqual([0, 10, 20]);
  });

  it("have hysteresis: from a fifth of full load it runs, below seven tenths of that it stands", () => {
    const seen = conditionStretches(unit, [current([1.9, 2, 1.9, 1.5, 1.41, 1.39, 1.5, 1.99, 2])]);
    expect(seen.states.map((state) => state === "stopped")).toEqual([
      true,
      false,
      false,
      false,
      false,
      true,
      true,
      true,
      false,
    ]);
  });

  it("are not made by a transmitter's noise about zero", () => {
    const noisy = conditionStretches(unit, [current([0.02, -0.3, 0.4, 0, -0.1, 0.3, 0.45, 0])]);
    expect(spells(noisy)).toEqual(["00:00:00 stopped"]);
  });

  it("go by half an ampere where there is no nameplate, by the unit's own current once it is known", () => {
    const plain = unitOf();
    expect(spells(conditionStretches(plain, [current([0.49, 0.5])]))).toEqual([
      "00:00:00 stopped",
      "00:00:10 priming",
    ]);
    // Three tenths of 9.3 A are 2.8 A: a fan left on the same circuit is no running pump.
    expect(spells(conditionStretches(plain, [hourClean, current([0, 1, 2.7, 2.9])])).slice(2)).toEqual([
      "01:00:00 stopped",
      "01:00:30 priming",
    ]);
  });

  it("are not known while the current is missing for long, and nothing is invented after", () => {
    const seen = conditionStretches(unit, [run(600), without(run(300), "motor_current"), run(60)]);
    expect(spells(seen)).toEqual([
      "00:00:00 priming",
      "00:00:10 running",
      "00:10:30 unknown",
      "00:15:00 running",
    ]);
  });

  it("are seen by power, or else by the command, where current is not measured", () => {
    const power = (w: number): Stretch => ({ seconds: 60, values: { power: w, discharge_pressure: 0 } });
    expect(spells(conditionStretches(unit, [power(3), power(700), power(3)]))).toEqual([
      "00:00:00 stopped",
      "00:01:00 priming",
      "00:02:00 stopped",
    ]);
    const command = (run_command: number): Stretch => ({
      seconds: 60,
      values: { run_command, discharge_pressure: 0 },
    });
    expect(spells(conditionStretches(unit, [command(0), command(1)]))).toEqual([
      "00:00:00 stopped",
      "00:01:00 priming",
    ]);
  });
});

describe("prime", () => {
  it("takes two readings of half the baseline's pressure in a row once that is known", () => {
    const again = [hourClean, stop(600)];
    const at = (discharge_pressure: number): Stretch => ({
      seconds: 60,
      values: but({ discharge_pressure }),
    });
    expect(spells(conditionStretches(unit, [...again, at(42), at(44)])).slice(-2)).toEqual([
      "01:10:00 priming",
      "01:11:10 running",
    ]);
  });

  it("is not established by one high reading among low ones", () => {
    const spiky: Stretch = {
      seconds: 120,
      values: (s) => ({ ...clean(s), ...dry, discharge_pressure: s % 20 === 0 ? 60 : 1 }),
    };
    expect(spells(conditionStretches(unit, [stop(60), spiky]))).toEqual([
      "00:00:00 stopped",
      "00:01:00 priming",
    ]);
  });

  it("once established lasts for the run: losing it is an alarm's word, not a state", () => {
    const seen = conditionStretches(unit, [hourClean, priming(600)]);
    expect(seen.states.at(-1)).toBe("running");
    expect(seen.water.at(-1)).toBe("still");
  });

  it("without a discharge gauge is taken to be there after the allowed 5 min, or by the loaded current", () => {
    const blind = (stretch: Stretch) => without(stretch, "discharge_pressure");
    expect(spells(conditionStretches(unit, [stop(60), blind(run(600))].map(blind)))).toEqual([
      "00:00:00 stopped",
      "00:01:00 priming",
      "00:06:00 running",
    ]);
    const known = [hourClean, stop(600), priming(60), run(60)].map(blind);
    expect(spells(conditionStretches(unit, known)).slice(-2)).toEqual([
      "01:10:00 priming",
      "01:11:00 running",
    ]);
  });
});

describe("water moves", () => {
  it("with prime and pressure, stands where the motor stands, and is unknown without a gauge", () => {
    const { water } = conditionStretches(unit, [stop(60), run(60), without(run(60), "discharge_pressure")]);
    expect(water.slice(0, 6)).toEqual(Array(6).fill("still"));
    expect(water.slice(6, 12)).toEqual(["still", ...Array(5).fill("moving")]);
    expect(water.at(-1)).toBe("unknown");
  });
});
