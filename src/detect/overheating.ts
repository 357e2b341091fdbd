import { z } from "zod";
import { operating } from "../condition/features.ts";
import { quantity } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import { channelIndex } from "../terms/channels.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const temperature = channelIndex.motor_temperature;
const ambient = channelIndex.ambient_temperature;

/** Total winding temperature by insulation class, °C, on a 40 °C ambient (NEMA MG 1, 12.42/12.43). */
export const windingLimitC = { A: 105, B: 130, F: 155, H: 180 } as const;

/**
 * Shell temperature limits, °C. B and F: common practice. A keeps B's 40 K below the winding limit; H
 * stays at F's, since bearings and grease set the limit there (house choices).
 */
export const shellLimitC = { A: 65, B: 90, F: 105, H: 105 } as const;

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "60 s", priority: "high" }),
  /** Overrides the limit by insulation class and place of measurement. */
  limit: quantity("°C").optional(),
  /** At the shell, where ambient temperature is measured: rise over ambient past its baseline (common practice). */
  rise_over_baseline: quantity("K").default(15),
  /** Clears this far below the limit. */
  deadband: quantity("K").default(2),
});

type Settings = z.output<typeof settings>;

/** The limit by the nameplate and the place of measurement, °C; class B where the nameplate is not given. */
export function temperatureLimitC(unit: Unit, limit?: number): number {
  if (limit !== undefined) return limit;
  const insulation = unit.motor.insulationClass ?? "B";
  return unit.motor.temperatureAt === "winding" ? windingLimitC[insulation] : shellLimitC[insulation];
}

/**
 * Motor temperature is past its limit: the insulation class's for a winding sensor; at the shell a lower
 * one, or 15 K above the unit's baseline rise over ambient where ambient is measured, whichever is lower.
 */
export const overheating: Rule<Settings, null> = {
  alarm: "overheating",
  version: 1,
  needs: ["motor_temperature"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "motor_temperature", unit: "°C", against: "limit" },
    { name: "ambient_temperature", unit: "°C" },
    { name: "baseline_rise", unit: "K" },
  ],
  limits: (unit, _baseline, { limit }) => [
    { channel: "motor_temperature", side: "high", value: temperatureLimitC(unit, limit) },
  ],
  start: () => null,
  run(_memory, features, from, to, { limit, rise_over_baseline, deadband }, met, evidence) {
    const { unit, baseline, state, value } = features;
    const fixed = temperatureLimitC(unit, limit);
    const clean = baseline?.signals[temperature]?.center;
    const cleanAmbient = baseline?.signals[ambient]?.center;
    const baselineRise =
      unit.motor.temperatureAt === "shell" && clean !== undefined && cleanAmbient !== undefined
        ? clean - cleanAmbient
        : Number.NaN;
    const [t, tLimit, air, , rise] = evidence;
    for (let row = from; row < to; row++) {
      t[row] = value[temperature][row];
      const byRise =
        state[row] === operating.running
          ? value[ambient][row] + baselineRise + rise_over_baseline
          : Number.NaN;
      const riseDecides = byRise < fixed;
      tLimit[row] = riseDecides ? byRise : fixed;
      air[row] = riseDecides ? value[ambient][row] : Number.NaN;
      rise[row] = riseDecides ? baselineRise : Number.NaN;
      if (t[row] >= tLimit[row]) met[row] = verdict.met;
      else met[row] = t[row] < tLimit[row] - deadband ? verdict.no : verdict.hold;
    }
  },
  say([t, limit, air, , rise], unit, { value, difference }) {
    const place = unit.motor.temperatureAt === "winding" ? "winding" : "shell";
    const now = value("motor_temperature", t);
    const most = value("motor_temperature", limit);
    if (Number.isNaN(rise)) return `The motor's ${place} is at ${now}, past its limit of ${most}.`;
    return (
      `The motor's ${place} is at ${now}, past ${most}: it runs ${difference(t - air)} above the air ` +
      `and ran ${difference(rise)} above it when clean.`
    );
  },
};
