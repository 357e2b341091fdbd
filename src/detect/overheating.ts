import { z } from "zod";
import { type Features, operating } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { quantity } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import { windingLimitC } from "../physics/insulation.ts";
import { channelIndex } from "../terms/channels.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const temperature = channelIndex.motor_temperature;
const ambient = channelIndex.ambient_temperature;

/**
 * Shell temperature limits, °C. B and F: common practice. A keeps B's 40 K below the winding limit; H
 * stays at F's, since bearings and grease set the limit there (house choices).
 */
export const shellLimitC = { A: 65, B: 90, F: 105, H: 105 } as const;

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "60 s", priority: "high" }),
  /** Overrides the limit by insulation class and place of measurement; never past that of class H. */
  limit: quantity("°C", { max: windingLimitC.H }).optional(),
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

/** How far above the air the shell ran when clean, K; NaN where that is not known, or at a winding. */
function baselineRiseK({ unit, baseline }: Features): number {
  if (unit.motor.temperatureAt !== "shell") return Number.NaN;
  return (centerOf(baseline, temperature) ?? Number.NaN) - (centerOf(baseline, ambient) ?? Number.NaN);
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
  run(_memory, features, from, to, settings, met) {
    const { unit, state, value } = features;
    const fixed = temperatureLimitC(unit, settings.limit);
    const allowedRise = baselineRiseK(features) + settings.rise_over_baseline;
    const t = value[temperature];
    const air = value[ambient];
    for (let row = from; row < to; row++) {
      const byRise = state[row] === operating.running ? air[row] + allowedRise : Number.NaN;
      const limit = Number.isNaN(byRise) ? fixed : Math.min(byRise, fixed);
      if (t[row] >= limit) met[row] = verdict.met;
      else met[row] = t[row] < limit - settings.deadband ? verdict.no : verdict.hold;
    }
  },
  numbers(features, row, settings) {
    const { unit, state, value } = features;
    const fixed = temperatureLimitC(unit, settings.limit);
    const rise = baselineRiseK(features);
    const air = value[ambient][row];
    const byRise = air + rise + settings.rise_over_baseline;
    const t = value[temperature][row];
    if (state[row] === operating.running && byRise < fixed)
      return [t, byRise, air, Number.NaN, rise, Number.NaN];
    return [t, fixed, Number.NaN, Number.NaN, Number.NaN, Number.NaN];
  },
  say([t, limit, air, , rise], unit, { value, difference }) {
    const place = unit.motor.temperatureAt === "winding" ? "winding" : "shell";
    const now = value("motor_temperature", t);
    const most = value("motor_temperature", limit);
    if (Number.isNaN(rise)) return `The motor's ${place} was at ${now}, past its limit of ${most}.`;
    return (
      `The motor's ${place} was at ${now}, past ${most}: it ran ${difference(t - air)} above the air ` +
      `and ran ${difference(rise)} above it when clean.`
    );
  },
};
