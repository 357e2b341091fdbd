import { z } from "zod";
import { operating, water } from "../condition/features.ts";
import { centerOf, primingAllowedMs } from "../condition/operating.ts";
import { duration } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const ozone = channelIndex.ozone;
const current = channelIndex.motor_current;
const discharge = channelIndex.discharge_pressure;

const settings = z.strictObject({
  /** How long ozone may stay on after prime was lost. */
  ...common({ delay: "60 s", off_delay: "3 min", priority: "high" }),
  /** How long a start may take to establish prime (common practice 5 min). */
  allowed: duration().default(primingAllowedMs),
});

type Settings = z.output<typeof settings>;

interface Memory {
  /** When the ozone was first seen on while the motor ran and no water moved; null otherwise. */
  sinceMs: number | null;
}

/**
 * The ozone is on and the motor runs, but no water moves: past the allowed priming time of a start, or 60 s
 * after prime was lost. Judged at every unit that reports ozone.
 */
export const ozoneWithoutWater: Rule<Settings, Memory> = {
  alarm: "ozone-without-water",
  version: 1,
  needs: ["motor_current", "discharge_pressure", "ozone"],
  needsBaseline: true,
  settings,
  evidence: [
    { name: "without_water_for", unit: "s" },
    { name: "discharge_pressure", unit: "kPa", against: "baseline" },
    { name: "motor_current", unit: "A", against: "baseline" },
  ],
  start: () => ({ sinceMs: null }),
  run(memory, features, from, to, { allowed, delay }, met, withoutMs) {
    const { baseline, state, timeMs, sinceStartMs } = features;
    const on = features.value[ozone];
    if (features.pumping && baseline !== null && !Number.isNaN(features.extremes[ozone].least)) {
      memory.sinceMs = null;
      withoutMs.fill(Number.NaN, from, to);
      met.fill(verdict.no, from, to);
      return;
    }
    for (let row = from; row < to; row++) {
      const status = on[row];
      withoutMs[row] = Number.NaN;
      const known = state[row] !== operating.unknown && features.water[row] !== water.unknown;
      if (baseline === null || !known || Number.isNaN(status)) {
        met[row] = verdict.hold;
        continue;
      }
      const motorOn = state[row] === operating.running || state[row] === operating.priming;
      if (status !== 1 || !motorOn || features.water[row] === water.moving) {
        memory.sinceMs = null;
        met[row] = verdict.no;
        continue;
      }
      memory.sinceMs ??= timeMs[row];
      withoutMs[row] = timeMs[row] - memory.sinceMs;
      // The delay runs within the allowed time, so that the alarm comes as soon as that is over.
      const mayStillPrime = state[row] === operating.priming && !(sinceStartMs[row] > allowed - delay);
      met[row] = mayStillPrime ? verdict.hold : verdict.met;
    }
  },
  numbers({ baseline, value }, row, _settings, withoutMs) {
    return [
      withoutMs[row] / 1000,
      Number.NaN,
      value[discharge][row],
      centerOf(baseline, discharge) ?? Number.NaN,
      value[current][row],
      centerOf(baseline, current) ?? Number.NaN,
    ];
  },
  say([, , p, pBase, a], _unit, { value }) {
    return (
      `The ozone was on while the motor ran (${value("motor_current", a)}) and moved ` +
      `no water: discharge pressure ${value("discharge_pressure", p)} (baseline ${value("discharge_pressure", pBase)}).`
    );
  },
};
