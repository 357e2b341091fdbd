import { z } from "zod";
import { operating, water } from "../condition/features.ts";
import { primingAllowedMs } from "../condition/operating.ts";
import { duration } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { span } from "../terms/time.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const ozone = channelIndex.ozone;
const current = channelIndex.motor_current;
const discharge = channelIndex.discharge_pressure;

const settings = z.strictObject({
  /** How long ozone may stay on after prime was lost. */
  ...common({ delay: "60 s", off_delay: "30 s", priority: "high" }),
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
  run(memory, features, from, to, { allowed, delay }, met, evidence) {
    const { baseline, state, timeMs, sinceStartMs, value } = features;
    const [without, , p, pBase, a, aBase] = evidence;
    for (let row = from; row < to; row++) {
      const status = value[ozone][row];
      p[row] = value[discharge][row];
      pBase[row] = baseline?.signals[discharge]?.center ?? Number.NaN;
      a[row] = value[current][row];
      aBase[row] = baseline?.signals[current]?.center ?? Number.NaN;
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
      without[row] = (timeMs[row] - memory.sinceMs) / 1000;
      // The delay runs within the allowed time, so that the alarm comes as soon as that is over.
      const mayStillPrime = state[row] === operating.priming && !(sinceStartMs[row] > allowed - delay);
      met[row] = mayStillPrime ? verdict.hold : verdict.met;
    }
  },
  say([withoutFor, , p, pBase, a], _unit, { value }) {
    return (
      `The ozone was on for ${span(withoutFor * 1000)} while the motor ran (${value("motor_current", a)}) and moved ` +
      `no water: discharge pressure ${value("discharge_pressure", p)} (baseline ${value("discharge_pressure", pBase)}).`
    );
  },
};
