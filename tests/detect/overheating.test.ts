import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { overheating } from "../../src/detect/overheating.ts";
import { spoken } from "../../src/fleet/display.ts";
import {
  but,
  clean,
  hourClean,
  readings,
  run,
  type Stretch,
  start,
  told,
  unitOf,
  type Values,
} from "../support/unit-days.ts";

const shellB = unitOf("{ id: LM-01, motor: { insulation_class: B } }");

const at = (motor_temperature: number, seconds = 300): Stretch => ({
  seconds,
  values: but({ motor_temperature }),
});

describe("overheating", () => {
  it("says of a motor that is just at its limit that it has reached it, and of one past it by how much", () => {
    const said = (t: number, display: "si" | "us") =>
      overheating.say(
        [t, 90, ...Array.from({ length: 10 }, () => Number.NaN)],
        unitOf("{ id: LM-01 }"),
        spoken(display),
      );
    expect(said(90, "us")).toBe("The motor's shell had reached its limit of 194 °F.");
    expect(said(90.02, "us")).toBe("The motor's shell was at 194.04 °F, past its limit of 194 °F.");
    expect(said(90.02, "si")).toBe("The motor's shell was at 90.02 °C, past its limit of 90 °C.");
  });

  it("is raised past the shell limit of the insulation class after its delay", () => {
    expect(told(shellB, [at(89.9), at(90)])).toEqual(["00:06:00 raised overheating"]);
  });

  it("takes class B where the nameplate is not given", () => {
    expect(told(unitOf(), [at(90)])).toEqual(["00:01:00 raised overheating"]);
  });

  it("says temperature, limit and place", () => {
    const [finding] = run(start(shellB), { kind: "readings", batch: readings([at(92.4)]) });
    expect(finding.evidence).toEqual({ motor_temperature: { value: 92.4, limit: 90, unit: "°C" } });
    expect(finding.message).toBe("The motor's shell was at 92.4 °C, past its limit of 90 °C.");
  });

  it("clears only below its deadband", () => {
    expect(told(shellB, [at(91), at(88.5), at(87.9)])).toEqual([
      "00:01:00 raised overheating",
      "00:11:00 cleared overheating",
    ]);
  });

  it("holds an insulation-class limit only against a winding sensor", () => {
    const winding = unitOf("{ id: LM-01, motor: { insulation_class: B, temperature_at: winding } }");
    expect(told(winding, [at(120)])).toEqual([]);
    expect(told(winding, [at(130)])).toEqual(["00:01:00 raised overheating"]);
  });

  it("is raised 15 K above the clean rise of a warm motor over the air, where that is lower", () => {
    const inShade: Stretch = { seconds: 7200, values: (s) => ({ ...clean(s), ambient_temperature: 25 }) };
    const hot = (rise: number): Stretch => ({
      seconds: 900,
      values: (s) => ({
        ...clean(s),
        motor_temperature: 58 + Math.min(s / 20, rise - 33),
        ambient_temperature: 25,
      }),
    });
    expect(told(shellB, [inShade, hot(38)])).toEqual([]);
    const [finding] = run(start(shellB), { kind: "readings", batch: readings([inShade, hot(49)]) });
    expect(finding.alarm).toBe("overheating");
    expect(finding.message).toMatch(/above the air and ran 33(\.\d+)? K above it when clean\.$/);
  });

  it("takes a start on a cold morning for no clean rise, however early the baseline was learned", () => {
    const warmingUp: Stretch = {
      seconds: 3 * 3600,
      values: (s) => ({
        ...clean(s),
        motor_temperature: 10 + 45 * (1 - Math.exp(-s / 1620)),
        ambient_temperature: 10,
      }),
    };
    const standing = {
      motor_current: 0,
      discharge_pressure: 0,
      motor_temperature: 10,
      ambient_temperature: 10,
    };
    const unit = unitOf("{ id: LM-01, ozone: none, motor: { insulation_class: B } }");
    expect(told(unit, [{ seconds: 600, values: standing }, warmingUp])).toEqual([]);
  });

  it("takes none from a window that was named over a cold start, and the warm part of a longer one", () => {
    const fromCold: Stretch = {
      seconds: 4 * 3600,
      values: (s) => ({
        ...clean(s),
        motor_temperature: 20 + 40 * (1 - Math.exp(-s / 1620)),
        ambient_temperature: 20,
      }),
    };
    const hot: Stretch = {
      seconds: 2 * 3600,
      values: (s) => ({
        ...clean(s),
        motor_temperature: (clean(s).motor_temperature ?? 0) + 2 + Math.min(s / 200, 18),
        ambient_temperature: 20,
      }),
    };
    const stands: Stretch = {
      seconds: 600,
      values: { motor_current: 0, discharge_pressure: 0, motor_temperature: 20, ambient_temperature: 20 },
    };
    const named = (hours: string) =>
      unitOf(
        `{ id: LM-01, ozone: none, motor: { insulation_class: B }, baseline: { from: 2026-05-04T00:00:00Z, for: ${hours} } }`,
      );
    expect(told(named("40 min"), [stands, fromCold])).toEqual([]);
    expect(told(named("40 min"), [stands, fromCold, hot])).toEqual([]);
    expect(told(named("3 h"), [stands, fromCold, hot])).toEqual(["04:47:30 raised overheating"]);
  });

  it("is raised minutes before the limit where the motor warms towards it, and says when", () => {
    // Blocked cooling: 6 K in an hour and rising towards 110 °C.
    const blocked: Stretch = {
      seconds: 4 * 3600,
      values: (s) => but({ motor_temperature: 58 + 52 * (1 - Math.exp(-s / 5400)) })(s),
    };
    const [finding] = run(start(shellB), { kind: "readings", batch: readings([hourClean, blocked]) });
    const passes = 3600 + 5400 * Math.log(52 / 20);
    const leadS = passes - (finding.timeMs - Date.parse("2026-05-04T00:00:00Z")) / 1000;
    expect(leadS).toBeGreaterThan(6 * 60);
    expect(leadS).toBeLessThan(11 * 60);
    expect(finding.message).toMatch(
      /^The motor's shell was at 8\d(\.\d)? °C and will be past its limit of 90 °C in \d+ min( \d+ s)?( to \d+ min( \d+ s)?)? if it goes on warming as it does\.$/,
    );
    expect(finding.evidence.limit_reached_in.value).toBeGreaterThan(leadS - 120);
    expect(finding.evidence.limit_reached_in.value).toBeLessThan(leadS + 120);
  });

  it("is not raised by warming up after a start, from cold or hot, to anything below the limit", () => {
    const warming = fc.record({
      tauMin: fc.double({ min: 15, max: 60, noNaN: true }),
      from: fc.double({ min: -5, max: 80, noNaN: true }),
      to: fc.double({ min: 40, max: 84, noNaN: true }),
      every: fc.constantFrom(5, 10, 60),
    });
    fc.assert(
      fc.property(warming, ({ tauMin, from, to, every }) => {
        const stands: Stretch = { seconds: 600, values: { motor_current: 0, motor_temperature: from } };
        const runs: Stretch = {
          seconds: 2 * 3600,
          values: (s) => ({
            motor_current: 9.3,
            motor_temperature: to + (from - to) * Math.exp(-s / 60 / tauMin),
          }),
        };
        expect(told(shellB, [stands, runs], every)).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });

  it("is not raised by a winding that follows a start or a heavier load within minutes", () => {
    const winding = unitOf("{ id: LM-01, motor: { insulation_class: B, temperature_at: winding } }");
    const step = (from: number, to: number, motor_current: number): Stretch => ({
      seconds: 3600,
      values: (s) => ({ motor_current, motor_temperature: to + (from - to) * Math.exp(-s / 240) }),
    });
    const stands: Stretch = { seconds: 900, values: { motor_current: 0, motor_temperature: 65 } };
    const lines = told(winding, [step(60, 85, 9), stands, step(65, 90, 9), step(90, 112, 10)]);
    expect(lines.filter((line) => line.includes("overheating"))).toEqual([]);
  });

  it("takes one wild reading for no warming", () => {
    const leaping: Stretch = {
      seconds: 3600,
      values: (s) => but({ motor_temperature: 80 + (s % 100 === 0 ? 60 : 0) })(s),
    };
    expect(told(shellB, [leaping]).filter((line) => line.includes("overheating"))).toEqual([]);
  });

  it("is not raised by the restart of a motor that stood in the sun and cools to its clean rise", () => {
    const at = (motor_temperature: (s: number) => number, more: Values, seconds: number): Stretch => ({
      seconds,
      values: (s) => ({
        ...clean(s),
        ambient_temperature: 25,
        motor_temperature: motor_temperature(s),
        ...more,
      }),
    });
    const unit = unitOf("{ id: LM-01, ozone: none }");
    const stretches = [
      at(() => 58, {}, 7200),
      at(() => 82, { motor_current: 0, discharge_pressure: 0, ozone: 0 }, 900),
      at((s) => 58 + 24 * Math.exp(-s / 1620), {}, 7200),
    ];
    expect(told(unit, stretches).filter((line) => line.includes("overheating"))).toEqual([]);
    const stays = at(() => 80, {}, 1800);
    expect(told(unit, [...stretches.slice(0, 2), stays]).join()).toMatch(/raised overheating/);
  });

  it("stays one alarm while a hot motor's protector trips and closes, and does not come back with a restart", () => {
    const hot: Stretch = { seconds: 1800, values: but({ motor_temperature: 95 }) };
    const stands: Stretch = {
      seconds: 1200,
      values: (s) => ({ motor_current: 0, discharge_pressure: 0, motor_temperature: 95 - s / 100 }),
    };
    const cools: Stretch = {
      seconds: 3600,
      values: (s) => but({ motor_temperature: 55 + 28 * Math.exp(-s / 1620) })(s),
    };
    const unit = unitOf("{ id: LM-01, ozone: none }");
    expect(told(unit, [hourClean, hot, stands, hot, stands, cools])).toEqual([
      "01:01:00 raised overheating",
      "02:41:00 cleared overheating",
    ]);
  });

  it("does not cry on a hot afternoon within limits", () => {
    const afternoon: Stretch = {
      seconds: 6 * 3600,
      values: (s) => {
        const air = 22 + 14 * Math.sin((Math.PI * s) / (6 * 3600));
        return { ...clean(s), motor_temperature: air + 33, ambient_temperature: air };
      },
    };
    expect(told(shellB, [hourClean, afternoon], 30)).toEqual([]);
  });

  it("is suppressed by the lost prime that brings it, and told when it outlives it", () => {
    const dry = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5, ozone: 0 };
    const unit = unitOf("{ id: LM-01, ozone: none }");
    const stretches: Stretch[] = [
      hourClean,
      { seconds: 120, values: but(dry) },
      { seconds: 300, values: but({ ...dry, motor_temperature: 95 }) },
      { seconds: 300, values: but({ motor_temperature: 95 }) },
      { seconds: 300, values: clean },
    ];
    expect(told(unit, stretches)).toEqual([
      "01:00:30 raised lost-prime",
      "01:03:00 suppressed overheating by lost-prime",
      "01:07:30 cleared lost-prime",
      "01:07:30 unsuppressed overheating",
      "01:13:00 cleared overheating",
    ]);
  });
});
