import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { channelIndex } from "../../src/terms/channels.ts";
import { centre, conditionStretches } from "../support/conditioned.ts";
import { dry, stopped } from "../support/fleets.ts";
import { but, clean, hourClean, type Stretch, unitOf, type Values, wobble } from "../support/unit-days.ts";

const unit = unitOf();
const run = (seconds: number, change: Values = {}): Stretch => ({ seconds, values: but(change) });

/** Median by sorting. */
function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}

describe("a unit's first baseline", () => {
  it("is the first steady half hour, ten minutes after running began, and provisional", () => {
    const { baseline, learnedAt } = conditionStretches(unit, [hourClean]);
    expect(learnedAt).toBe("00:40:00");
    expect(baseline).toMatchObject({ confirmed: false, readings: 181, ozoneOffSpellMs: null });
    const window = Array.from({ length: 181 }, (_, i) => clean(600 + 10 * i));
    for (const channel of ["motor_current", "motor_temperature", "discharge_pressure"] as const) {
      expect(centre(baseline, channel)).toBe(median(window.map((values) => values[channel] ?? 0)));
    }
  });

  it("is not learned while the unit stands, nor from running shorter than forty minutes", () => {
    expect(conditionStretches(unit, [{ seconds: 7200, values: stopped }]).baseline).toBeNull();
    expect(conditionStretches(unit, [run(2390)]).baseline).toBeNull();
  });

  it("is not learned from a pump that never had pressure", () => {
    expect(conditionStretches(unit, [run(4 * 3600, dry)]).baseline).toBeNull();
  });

  it("is not learned while the running still changes, and is once it has settled", () => {
    // Pressure falls from 120 to 80 kPa over two hours, as behind a screen that clogs, and then stays.
    const falling: Stretch = {
      seconds: 7200,
      values: (s) => ({ ...clean(s), discharge_pressure: 120 - s / 180 }),
    };
    expect(conditionStretches(unit, [falling]).baseline).toBeNull();
    const { baseline } = conditionStretches(unit, [falling, run(3600, { discharge_pressure: 80 })]);
    expect(Math.abs((centre(baseline, "discharge_pressure") ?? 0) - 80)).toBeLessThan(2);
  });

  it("is not bent by five minutes of a fault inside it", () => {
    const { baseline } = conditionStretches(unit, [
      run(1500),
      run(300, { motor_current: 14, motor_temperature: 80 }),
      run(1800),
    ]);
    expect(centre(baseline, "motor_current")).toBeCloseTo(9.3, 1);
    expect(centre(baseline, "motor_temperature")).toBeCloseTo(58, 0);
  });

  it("moves by less than 2 % where a quarter of its readings hold a fault, wherever and however they lie", () => {
    const faults: readonly ((s: number) => Values)[] = [
      // A suction that draws air: pressure and vacuum down and wavering, the motor lighter.
      (s) => ({
        ...clean(s),
        motor_current: 8.2 + 0.4 * wobble(s, "motor_current"),
        suction_pressure: -15 + 5 * wobble(s, "suction_pressure"),
        discharge_pressure: 60 + 15 * wobble(s, "discharge_pressure"),
      }),
      (s) => ({ ...clean(s), discharge_pressure: 86 + 40 * wobble(s + 1, "discharge_pressure") }),
      (s) => ({ ...clean(s), motor_current: 14, suction_pressure: -60, discharge_pressure: 130 }),
      // A stop, and a start that takes five minutes to prime.
      (s) => (s % 450 < 150 ? stopped : { ...clean(s), ...dry }),
    ];
    const values = fc.record({
      fault: fc.constantFrom(...faults),
      /** One stretch from here on, a share of the window; else every fourth reading. */
      from: fc.option(fc.double({ min: 0, max: 0.75, noNaN: true })),
      window: fc.boolean(),
    });
    fc.assert(
      fc.property(values, ({ fault, from, window }) => {
        const [beginS, lengthS] = window ? [3600, 1800] : [600, 1800];
        const day: Stretch = {
          seconds: 4 * 3600,
          values: (s) => {
            const at = (s - beginS) / lengthS;
            const faulty = from === null ? (s / 10) % 4 === 0 : at >= from && at < from + 0.25;
            return at >= 0 && at < 1 && faulty ? fault(s) : clean(s);
          },
        };
        const named = "{ id: LM-01, baseline: { from: 2026-05-04T01:00:00Z, for: 30 min } }";
        const { baseline } = conditionStretches(window ? unitOf(named) : unit, [day]);
        const whole = conditionStretches(unit, [hourClean]).baseline;
        for (const channel of ["motor_current", "suction_pressure", "discharge_pressure"] as const) {
          const without = centre(whole, channel) ?? Number.NaN;
          expect(Math.abs((centre(baseline, channel) ?? Number.NaN) / without - 1)).toBeLessThan(0.02);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("has a spread where a coarse sensor repeats one value: at least half of its resolution", () => {
    const coarse: Stretch = {
      seconds: 3600,
      values: (s) => ({ ...clean(s), discharge_pressure: s % 50 === 0 ? 80 : 90, gas_pressure: 24 }),
    };
    const { baseline } = conditionStretches(unit, [coarse]);
    const spread = (channel: "discharge_pressure" | "gas_pressure") =>
      baseline?.signals[channelIndex[channel]]?.spread;
    expect(centre(baseline, "discharge_pressure")).toBe(90);
    expect(spread("discharge_pressure")).toBeGreaterThan(1);
    expect(spread("gas_pressure")).toBe(0.5);
  });

  it("has nothing of a channel that the log lacks", () => {
    const { baseline } = conditionStretches(unit, [hourClean]);
    expect(baseline?.signals[channelIndex.voltage]).toBeNull();
  });

  it("starts over the settling after every start", () => {
    const stop: Stretch = { seconds: 300, values: stopped };
    const { learnedAt } = conditionStretches(unit, [run(900), stop, run(900), stop, run(3600)]);
    // 4 min 50 s of each short run count, 00:10:00–00:14:50 and 00:30:00–00:34:50; of the last run, which is
    // settled from 00:50 on, the 20 min 20 s that lack to half an hour.
    expect(learnedAt).toBe("01:10:20");
  });

  it("is the same whatever the sampling", () => {
    fc.assert(
      fc.property(fc.constantFrom(1, 2, 5, 10, 20, 30, 60), (every) => {
        const { baseline } = conditionStretches(unit, [{ seconds: 3 * 3600, values: clean }], every);
        expect(centre(baseline, "motor_current")).toBeCloseTo(9.3, 1);
        expect(Math.abs((centre(baseline, "discharge_pressure") ?? 0) - 86)).toBeLessThan(0.3);
        expect(baseline?.readings).toBeLessThanOrEqual(361);
      }),
      { numRuns: 7 },
    );
  });

  it("keeps the longest pause of an ozone cell that cycles, and nothing of one that was off once", () => {
    const cycling: Stretch = {
      seconds: 3600,
      values: (s) => ({ ...clean(s), ozone: s % 600 < 360 ? 1 : 0 }),
    };
    expect(conditionStretches(unit, [cycling]).baseline?.ozoneOffSpellMs).toBe(240_000);
    const once: Stretch = {
      seconds: 3600,
      values: (s) => ({ ...clean(s), ozone: s >= 1200 && s < 1500 ? 0 : 1 }),
    };
    expect(conditionStretches(unit, [once]).baseline?.ozoneOffSpellMs).toBeNull();
  });
});

describe("a baseline that the fleet file names", () => {
  const named = unitOf("{ id: LM-01, baseline: { from: 2026-05-04T01:00:00Z, for: 20 min } }");

  it("is taken from all running in its window and is confirmed", () => {
    const window = run(1200, { discharge_pressure: 70, motor_current: 8 });
    const { baseline, learnedAt } = conditionStretches(named, [hourClean, window, hourClean]);
    expect(learnedAt).toBe("01:20:00");
    expect(baseline).toMatchObject({ confirmed: true, readings: 120 });
    expect(centre(baseline, "discharge_pressure")).toBe(70);
    expect(centre(baseline, "motor_current")).toBe(8);
  });

  it("leaves the standing in its window out", () => {
    const stop: Stretch = { seconds: 600, values: stopped };
    const { baseline } = conditionStretches(named, [hourClean, stop, run(600), hourClean]);
    expect(baseline?.readings).toBe(60);
    expect(centre(baseline, "discharge_pressure")).toBeGreaterThan(80);
  });

  it("is none where the unit did not run in it, however steady it runs after", () => {
    const stop: Stretch = { seconds: 1200, values: stopped };
    const { baseline } = conditionStretches(named, [hourClean, stop, hourClean, hourClean]);
    expect(baseline).toBeNull();
  });
});
