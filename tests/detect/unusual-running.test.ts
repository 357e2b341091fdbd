import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeUnit, encodeUnit } from "../../src/collector/checkpoint.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import type { Channel } from "../../src/terms/channels.ts";
import { stopped } from "../support/fleets.ts";
import { cutAt, cuts } from "../support/random-logs.ts";
import {
  clean,
  hourClean,
  lines,
  readings,
  rowsOf,
  run,
  type Stretch,
  start,
  told,
  unitOf,
  type Values,
  wobble,
} from "../support/unit-days.ts";

const alone = unitOf();
const attended = unitOf("{ id: LM-01, limits: { unusual-running: { sensitivity: high } } }");

/** Clean running with some of its channels moved by so much. */
const moved =
  (by: Values) =>
  (second: number): Values => {
    const values = clean(second);
    for (const [channel, change] of Object.entries(by) as [Channel, number][]) {
      values[channel] = (values[channel] ?? 0) + change;
    }
    return values;
  };

/** Running with its current `share` above clean, and nothing else changed. */
const drag =
  (share: number) =>
  (second: number): Values => {
    const values = clean(second);
    return { ...values, motor_current: (1 + share) * (values.motor_current ?? 0) };
  };

const dragged = (share: number, seconds: number): Stretch => ({ seconds, values: drag(share) });
const wellFor = (seconds: number): Stretch => ({ seconds, values: clean });

describe("unusual running", () => {
  it("is told after half an hour of a current a tenth above clean with nothing else changed: a bearing that drags", () => {
    expect(told(alone, [hourClean, dragged(0.1, 3600), wellFor(600)])).toEqual([
      "01:30:40 raised unusual-running",
      "02:00:40 cleared unusual-running",
    ]);
  });

  it("names the channel that left its clean pattern, and how far the running is from it", () => {
    const [finding] = run(start(alone), {
      kind: "readings",
      batch: readings([hourClean, dragged(0.1, 3600)]),
    });
    expect(finding.priority).toBe("low");
    expect(finding.message).toBe(
      "The running has left its clean pattern: current at 10.2 A, clean 9.3 A (+9.7 %).",
    );
    expect(Object.keys(finding.evidence)).toEqual(["motor_current", "distance"]);
    expect(finding.evidence.motor_current.baseline).toBeCloseTo(9.3, 1);
    expect(finding.evidence.distance.value).toBeGreaterThan(finding.evidence.distance.limit ?? 0);
  });

  it("says what was read, however far it is, though a reading counts for no more than ten spreads", () => {
    const shaking: Stretch = {
      seconds: 3600,
      values: (s) => ({ ...clean(s), vibration: 0.2 + 0.01 * wobble(s, "vibration") }),
    };
    const broken: Stretch = {
      seconds: 3600,
      values: (s) => ({ ...clean(s), vibration: 0.9 + 0.01 * wobble(s, "vibration") }),
    };
    const [finding] = run(start(alone), { kind: "readings", batch: readings([shaking, broken]) });
    expect(finding.message).toMatch(
      /^The running has left its clean pattern: vibration at 0.9\d? g, clean 0.2 g \(\+35\d/,
    );
  });

  it("tells channels of which each is within its own band, but all together are not", () => {
    const change = { motor_current: 0.3, suction_pressure: -4, discharge_pressure: 6, gas_pressure: 5 };
    const toldOf = (by: Values) => told(alone, [hourClean, { seconds: 5400, values: moved(by) }]);
    for (const [channel, by] of Object.entries(change)) expect(toldOf({ [channel]: by })).toEqual([]);
    expect(toldOf(change)).toEqual([expect.stringMatching(/^01:3\d:\d\d raised unusual-running$/)]);
  });

  it("says nothing of a day's weather and supply: voltage and current by a percent, motor and water by many degrees", () => {
    const day: Stretch = {
      seconds: 24 * 3600,
      values: (s) => {
        const wave = Math.sin((2 * Math.PI * s) / 86_400);
        const values = clean(s);
        return {
          ...values,
          voltage: 115 * (1 + 0.02 * wave) + 0.2 * wobble(s, "voltage"),
          motor_current: (values.motor_current ?? 0) * (1 - 0.015 * wave),
          motor_temperature: (values.motor_temperature ?? 0) + 10 * wave,
          water_temperature: 19 + 3 * wave,
          ambient_temperature: 22 + 10 * wave,
          discharge_pressure: (values.discharge_pressure ?? 0) * (1 + 0.03 * wave),
          suction_pressure: (values.suction_pressure ?? 0) - 2 * wave,
          gas_pressure: (values.gas_pressure ?? 0) * (1 + 0.1 * wave),
        };
      },
    };
    expect(told(alone, [day, day], 30)).toEqual([]);
  });

  it("leaves a change to the alarm that explains it: a parted line is told as that alone", () => {
    const parted = moved({ discharge_pressure: -26, suction_pressure: -10, motor_current: 1 });
    expect(told(alone, [hourClean, { seconds: 3600, values: parted }])).toEqual([
      expect.stringMatching(/raised discharge-open$/),
      expect.stringMatching(/suppressed unusual-running by discharge-open$/),
    ]);
  });

  it("begins anew with each start, and is over when the pump stops", () => {
    const stop: Stretch = { seconds: 3600, values: stopped };
    expect(told(alone, [hourClean, dragged(0.1, 1500), stop, dragged(0.1, 3600), stop])).toEqual([
      "03:05:40 raised unusual-running",
      "03:25:00 cleared unusual-running",
    ]);
  });

  it("is told in the same minutes whatever the sampling", () => {
    for (const every of [1, 5, 20, 60]) {
      const [first] = told(alone, [hourClean, dragged(0.1, 3600)], every);
      expect(first).toMatch(/^01:3[0-3]:\d\d raised unusual-running$/);
    }
  });

  it("is quiet at a unit that has none of its channels", () => {
    const unit = unitOf("{ id: LM-01, runs: always }");
    const bare: Stretch = { seconds: 7200, values: { motor_temperature: 50, ozone: 1 } };
    expect(told(unit, [bare]).filter((line) => line.includes("unusual"))).toEqual([]);
  });
});

describe("with high sensitivity, for an attended run", () => {
  it("two percent more current is told within a minute, and its end soon after", () => {
    const [raised, cleared] = told(attended, [hourClean, dragged(0.02, 600), wellFor(600)], 1);
    expect(raised).toMatch(/^01:00:\d\d raised unusual-running$/);
    expect(cleared).toMatch(/^01:1[01]:\d\d cleared unusual-running$/);
  });

  it("clean running is not: not in six hours", () => {
    expect(told(attended, [wellFor(6 * 3600)])).toEqual([]);
  });

  it("what is left of a great disturbance is not told again, though it would be by itself, and is where it lasts", () => {
    const great = dragged(0.02, 300);
    const cleared = expect.stringMatching(/^01:0[56]:\d\d cleared unusual-running$/);
    const raised = expect.stringMatching(/^01:00:\d\d raised unusual-running$/);
    expect(told(attended, [hourClean, dragged(0.0055, 240)], 1)).toEqual([raised]);
    expect(told(attended, [hourClean, great, dragged(0.0055, 240)], 1)).toEqual([raised, cleared]);
    expect(told(attended, [hourClean, great, dragged(0.0055, 5400)], 1).length).toBeGreaterThan(2);
  });

  it("delays that the fleet file names hold", () => {
    const slow = unitOf("{ id: LM-01, limits: { unusual-running: { sensitivity: high, delay: 10 min } } }");
    const [raised] = told(slow, [hourClean, dragged(0.05, 1200)]);
    expect(raised).toMatch(/^01:10:\d\d raised unusual-running$/);
  });
});

describe("however the readings are split, and killed between", () => {
  const stop: Stretch = { seconds: 600, values: stopped };
  const log = readings(
    [hourClean, dragged(0.05, 600), stop, wellFor(900), dragged(0.2, 400), wellFor(300)],
    7,
  );
  const whole = run(start(attended), { kind: "readings", batch: log });

  function through(parts: readonly ReadingBatch[]) {
    let state = start(attended);
    return parts.flatMap((batch) => {
      const findings = run(state, { kind: "readings", batch });
      state = decodeUnit(attended, { timezone: "UTC" }, encodeUnit(state)).state;
      return findings;
    });
  }

  it("it tells the same, with the same numbers", () => {
    expect(lines(whole).filter((line) => line.includes("raised unusual-running"))).toHaveLength(2);
    fc.assert(
      fc.property(cuts, (places) => {
        expect(through(cutAt(log, places))).toEqual(whole);
      }),
      { numRuns: 25 },
    );
  });

  it("it tells the same row by row", () => {
    const slow = unitOf("{ id: LM-01, limits: { unusual-running: { off_delay: 50 s } } }");
    const day = readings([hourClean, dragged(0.1, 2400), wellFor(300), stop, dragged(0.1, 3000)], 7);
    for (const [unit, batch] of [
      [attended, log],
      [slow, day],
    ] as const) {
      const state = start(unit);
      const each = Array.from({ length: batch.rows }, (_, row) => rowsOf(batch, row, row + 1));
      const findings = each.flatMap((one) => run(state, { kind: "readings", batch: one }));
      expect(lines(findings).filter((line) => line.includes("raised unusual-running"))).toHaveLength(2);
      expect(findings).toEqual(run(start(unit), { kind: "readings", batch }));
    }
  });
});
