import { describe, expect, it } from "vitest";
import { conditionStretches } from "../support/conditioned.ts";
import { clean, type Stretch, unitOf } from "../support/unit-days.ts";

const blank = (seconds: number): Stretch => ({
  seconds,
  values: (s) => ({ ...clean(s), gas_pressure: undefined }),
});
const steady = (seconds: number): Stretch => ({
  seconds,
  values: (s) => ({ ...clean(s), gas_pressure: 24 }),
});
const known = (values: readonly number[]) => values.map((x) => !Number.isNaN(x));

describe("an empty cell", () => {
  it("keeps its last value for three sample intervals, then is not known", () => {
    const gas = conditionStretches(unitOf(), [steady(600), blank(60), steady(10)]).value("gas_pressure");
    expect(gas.slice(59, 67)).toEqual([24, 24, 24, 24, Number.NaN, Number.NaN, Number.NaN, 24]);
  });

  it("is held for half a minute where sampling is quicker", () => {
    const gas = conditionStretches(unitOf(), [steady(60), blank(60)], 1).value("gas_pressure");
    expect(known(gas.slice(60)).filter(Boolean)).toHaveLength(30);
    expect(Number.isNaN(gas[59 + 31])).toBe(true);
  });

  it("is held for three minutes at one reading a minute", () => {
    const gas = conditionStretches(unitOf(), [steady(3600), blank(600)], 60).value("gas_pressure");
    expect(known(gas.slice(60))).toEqual([true, true, true, ...Array(7).fill(false)]);
  });

  it("before any value is not known", () => {
    const gas = conditionStretches(unitOf(), [blank(60), steady(10)]).value("gas_pressure");
    expect(known(gas)).toEqual([...Array(6).fill(false), true]);
  });

  it("does not reach over a gap in the log", () => {
    const { value } = conditionStretches(
      unitOf("{ id: LM-01, sample_interval: 10 s }"),
      [steady(60), blank(60)],
      30,
    );
    expect(known(value("gas_pressure"))).toEqual([true, true, true, false]);
  });
});
