import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  but,
  hourClean,
  readings,
  run,
  type Stretch,
  start,
  told,
  unitOf,
  type Values,
} from "../support/unit-days.ts";

/** Full load 10 A: it bears 10.5 A for long. */
const unit = unitOf("{ id: LM-01, motor: { full_load_current: 10 A, voltage: 115 V } }");
const drawing = (motor_current: number, minutes: number, more: Values = {}): Stretch => ({
  seconds: 60 * minutes,
  values: but({ motor_current, ...more }),
});
const standing = (minutes: number): Stretch => ({
  seconds: 60 * minutes,
  values: { motor_current: 0, suction_pressure: -1, discharge_pressure: 0, gas_pressure: 0 },
});
const raised = (stretches: readonly Stretch[], at = unit, every = 10) =>
  told(at, stretches, every).filter((line) => line.includes("overcurrent"));
const message = (stretches: readonly Stretch[], at = unit) =>
  run(start(at), { kind: "readings", batch: readings(stretches) }).find(
    ({ alarm }) => alarm === "overcurrent",
  );

describe("overcurrent", () => {
  it("is raised when the thermal replica is used up: IEC 60255-149's hot curve, and the delay", () => {
    // τ 20 min, I / kI_B = 14 / 10.5 from 10 / 10.5: 20 ln[(1.778 − 0.907) / 0.778] = 2.26 min; 30 s of delay.
    expect(raised([drawing(10, 180), drawing(14, 10)])).toEqual([
      expect.stringMatching(/^03:0(2:50|3:00) raised/),
    ]);
  });

  it("is raised by a small overload that lasts for ten minutes", () => {
    expect(raised([drawing(8, 180), drawing(10.8, 30)])).toEqual([
      expect.stringMatching(/^03:10:[45]0 raised/),
    ]);
  });

  it("says how much, for how long and what is used up", () => {
    const finding = message([drawing(10, 60), drawing(14, 10)]);
    expect(finding?.priority).toBe("high");
    expect(finding?.message).toMatch(
      /^The motor drew 14 A for 1\d0 s, 33 % more than it bears for long \(full load 10 A\): its thermal capacity is used up \(1\d\d %\)\.$/,
    );
    expect(finding?.evidence.motor_current).toEqual({ value: 14, limit: 10.5, unit: "A" });
  });

  it("does not blame a low voltage where the motor would draw too much at the right one as well", () => {
    expect(message([drawing(10, 60), drawing(14, 15, { voltage: 103 })])?.message).toMatch(
      / The voltage is low too: 103 V at the motor, low from 105.8 V down\.$/,
    );
  });

  it("names low voltage where it is the cause, and only there", () => {
    expect(message([drawing(10, 60), drawing(11.2, 15, { voltage: 88 })])?.message).toMatch(
      / Low voltage is the cause: 88 V at the motor, low from 105.8 V down\.$/,
    );
    expect(message([drawing(10, 60), drawing(11.2, 15, { voltage: 116 })])?.message).not.toMatch(/voltage/);
  });

  it("allows the service factor, but no more than an overload device may be set to", () => {
    const marked = (serviceFactor: number) =>
      unitOf(`{ id: LM-01, motor: { full_load_current: 10 A, service_factor: ${serviceFactor} } }`);
    expect(raised([drawing(11.9, 240)], marked(1.15))).toEqual([]);
    expect(raised([drawing(12.2, 240)], marked(1.15))).toHaveLength(1);
    expect(raised([drawing(12.6, 240)], marked(1.4))).toHaveLength(1);
  });

  it("holds a motor without a nameplate against its own clean current", () => {
    const bare = unitOf();
    expect(raised([hourClean, drawing(10.5, 120)], bare)).toEqual([]);
    expect(raised([hourClean, drawing(12.5, 30)], bare)).toHaveLength(1);
  });

  it("stays one alarm over the rest that a protector takes, and is over when the motor has cooled", () => {
    const tripping = Array.from({ length: 4 }, () => [drawing(15, 6), standing(8)]).flat();
    expect(raised([drawing(10, 60), ...tripping])).toEqual([expect.stringMatching(/^01:02:[23]0 raised/)]);
    expect(raised([drawing(10, 60), drawing(15, 4), standing(90)])).toEqual([
      expect.stringMatching(/^01:02:[23]0 raised/),
      expect.stringMatching(/^01:5\d:\d0 cleared/),
    ]);
  });

  it("is told while the unit is under service", () => {
    const state = start(unit);
    const record = {
      unit: "LM-01",
      work: "repair",
      step: "begin",
      atMs: Date.parse("2026-05-04T00:00:00Z"),
    } as const;
    const findings = run(
      state,
      { kind: "service", record },
      { kind: "readings", batch: readings([drawing(10, 60), drawing(15, 10)]) },
    );
    expect(findings.map(({ event, alarm }) => `${event} ${alarm}`)).toContain("raised overcurrent");
  });

  it("is not raised by starts, seen or not, at any sampling", () => {
    const starts = Array.from({ length: 8 }, () => [
      drawing(60, 1 / 60),
      drawing(9.8, 20),
      standing(2),
    ]).flat();
    for (const every of [1, 10]) expect(raised(starts, unit, every)).toEqual([]);
    const unseen: Stretch = {
      seconds: 7200,
      values: (s) => but({ motor_current: s % 600 === 0 ? 60 : 9.8 })(s),
    };
    for (const every of [10, 60]) expect(raised([unseen], unit, every)).toEqual([]);
  });

  it("is not raised by what nobody saw: a gap between two readings of an overload", () => {
    const before = readings([drawing(9, 60), drawing(14, 0.2)]);
    const after = readings([drawing(14, 0.7), drawing(9, 60)], 10, Date.parse("2026-05-04T06:00:00Z"));
    const state = start(unit);
    const findings = run(state, { kind: "readings", batch: before }, { kind: "readings", batch: after });
    expect(findings.filter(({ alarm }) => alarm === "overcurrent")).toEqual([]);
  });

  it("is never raised by any day of currents that the motor bears", () => {
    const borne = fc.array(
      fc.record({
        amps: fc.double({ min: 2.2, max: 10.4, noNaN: true }),
        minutes: fc.integer({ min: 1, max: 60 }),
      }),
      { minLength: 1, maxLength: 6 },
    );
    fc.assert(
      fc.property(borne, fc.constantFrom(10, 60), (parts, every) => {
        expect(
          raised(
            parts.map(({ amps, minutes }) => drawing(amps, minutes)),
            unit,
            every,
          ),
        ).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });
});
