import { describe, expect, it } from "vitest";
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
} from "../support/unit-days.ts";

const shellB = unitOf("{ id: LM-01, motor: { insulation_class: B } }");

const at = (motor_temperature: number, seconds = 300): Stretch => ({
  seconds,
  values: but({ motor_temperature }),
});

describe("overheating", () => {
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

  it("is raised 15 K above the baseline's rise over the air, where that is lower", () => {
    const inShade: Stretch = { seconds: 3600, values: (s) => ({ ...clean(s), ambient_temperature: 25 }) };
    const hot = (rise: number): Stretch => ({
      seconds: 300,
      values: but({ motor_temperature: 25 + rise, ambient_temperature: 25 }),
    });
    expect(told(shellB, [inShade, hot(47)])).toEqual([]);
    const [finding] = run(start(shellB), { kind: "readings", batch: readings([inShade, hot(49)]) });
    expect(finding.alarm).toBe("overheating");
    expect(finding.message).toMatch(/49 K above the air and ran 33(\.\d+)? K above it when clean/);
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
