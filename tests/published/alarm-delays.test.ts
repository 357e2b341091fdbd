import { describe, expect, it } from "vitest";
import { ruleSettings } from "../../src/detect/rules.ts";
import { clean, type Stretch, told, unitOf } from "../support/unit-days.ts";

/**
 * Source: OPC 10000-9, Alarms and Conditions, annex B (deadband and delays of limit alarms): a high limit L
 * with deadband D sets at L and clears below L − D; the deadband acts on clearing only; the on-delay is how
 * long the condition must hold before the alarm, the off-delay how long the alarm stays after it has gone.
 */
const unit = unitOf(
  "{ id: LM-01, limits: { overheating: { limit: 70 degC, ahead: 0 s, deadband: 5 K, delay: 60 s, off_delay: 2 min } } }",
);

/** Temperatures held for so many minutes each. */
const held = (...steps: readonly (readonly [temperatureC: number, minutes: number])[]): string[] =>
  told(
    unit,
    steps.map(
      ([motor_temperature, minutes]): Stretch => ({
        seconds: minutes * 60,
        values: (s) => ({ ...clean(s), motor_temperature }),
      }),
    ),
  );

describe("a limit alarm after OPC 10000-9 annex B", () => {
  it("sets at the limit itself, and not anywhere in the deadband below it", () => {
    expect(held([60, 5], [69.9, 5])).toEqual([]);
    expect(held([60, 5], [70, 5])).toEqual(["00:06:00 raised overheating"]);
  });

  it("stays while the value is in the deadband, and clears below it", () => {
    expect(held([70, 5], [65, 60])).toEqual(["00:01:00 raised overheating"]);
    expect(held([70, 5], [64.9, 60])).toEqual([
      "00:01:00 raised overheating",
      "00:07:00 cleared overheating",
    ]);
  });

  it("does not set on the way up through the deadband after it has cleared", () => {
    expect(held([70, 5], [60, 5], [69, 60])).toEqual([
      "00:01:00 raised overheating",
      "00:07:00 cleared overheating",
    ]);
  });

  it("needs the condition to hold for the on-delay: shorter spells are no alarm, and do not add up", () => {
    const spell = [70, 5 / 6] as const;
    const between = [60, 3] as const;
    expect(held(spell, between, spell, between, spell)).toEqual([]);
  });

  it("stays for the off-delay after the condition has gone, counted anew when it returns", () => {
    expect(held([70, 5], [60, 1], [70, 1], [60, 10])).toEqual([
      "00:01:00 raised overheating",
      "00:09:00 cleared overheating",
    ]);
  });
});

describe("delays to begin with", () => {
  /** Source: EEMUA 191's starting points by kind of signal: temperature 60 s, pressure 15 s; from memory. */
  it("are no shorter than EEMUA 191's for their signals", () => {
    const delayOf = (alarm: "overheating" | "lost-prime") =>
      (ruleSettings[alarm]?.parse({}) as { delay: number; off_delay: number } | undefined) ?? {
        delay: 0,
        off_delay: 0,
      };
    expect(delayOf("overheating").delay).toBeGreaterThanOrEqual(60_000);
    expect(delayOf("overheating").off_delay).toBeGreaterThanOrEqual(60_000);
    expect(delayOf("lost-prime").delay).toBeGreaterThanOrEqual(15_000);
    expect(delayOf("lost-prime").off_delay).toBeGreaterThanOrEqual(15_000);
  });
});
