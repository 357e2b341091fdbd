import { z } from "zod";
import { type Baseline, operating, someState, water } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { duration } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute } from "../terms/time.ts";
import { ozoneFitted } from "./ozone.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const ozone = channelIndex.ozone;
const discharge = channelIndex.discharge_pressure;

const settings = z.strictObject({
  ...common({ delay: "2 min", off_delay: "30 s", priority: "medium" }),
  /** Where the ozone cycles by design: off for this many times its longest off spell of the baseline. */
  cycle_factor: z.number().min(1).default(1.5),
  /** Off for this long before a baseline tells whether the ozone cycles. */
  before_baseline: duration().default(30 * minute),
});

type Settings = z.output<typeof settings>;

interface Memory {
  /** When the ozone was first seen off while water moved; null while it is on or water stands still. */
  offSinceMs: number | null;
}

/** How long the ozone may be off by design, ms. */
function allowedOffMs(baseline: Baseline | null, { cycle_factor, before_baseline }: Settings): number {
  return baseline ? cycle_factor * (baseline.ozoneOffSpellMs ?? 0) : before_baseline;
}

/** Fitted ozone is off or in fault while water moves; where it cycles, longer than it did when clean. */
export const ozoneOff: Rule<Settings, Memory> = {
  alarm: "ozone-off",
  version: 1,
  needs: ["motor_current", "ozone"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "ozone_off_for", unit: "s", against: "limit" },
    { name: "ozone_in_fault", unit: "" },
    { name: "discharge_pressure", unit: "kPa", against: "baseline" },
  ],
  quiet: ozoneFitted,
  start: () => ({ offSinceMs: null }),
  run(memory, features, from, to, settings, met, offMs) {
    const { baseline, state, timeMs, water: moves } = features;
    const on = features.value[ozone];
    const { least, greatest } = features.extremes[ozone];
    if (least === 1 && greatest === 1 && !someState(features, operating.unknown)) {
      memory.offSinceMs = null;
      offMs.fill(Number.NaN, from, to);
      met.fill(verdict.no, from, to);
      return;
    }
    const cycleMs = allowedOffMs(baseline, settings);
    for (let row = from; row < to; row++) {
      const status = on[row];
      if (state[row] !== operating.running || moves[row] === water.still || status === 1) {
        memory.offSinceMs = null;
        offMs[row] = Number.NaN;
        met[row] = state[row] === operating.unknown ? verdict.hold : verdict.no;
        continue;
      }
      if (Number.isNaN(status)) {
        offMs[row] = Number.NaN;
        met[row] = verdict.hold;
        continue;
      }
      memory.offSinceMs ??= timeMs[row];
      offMs[row] = timeMs[row] - memory.offSinceMs;
      met[row] = status === 2 || offMs[row] >= cycleMs ? verdict.met : verdict.hold;
    }
  },
  numbers({ baseline, value, water: moves }, row, settings, offMs) {
    // A gauge that shows nothing while the motor is loaded is no evidence of water.
    const p = moves[row] === water.moving ? value[discharge][row] : Number.NaN;
    return [
      offMs[row] / 1000,
      Math.max(settings.delay, allowedOffMs(baseline, settings)) / 1000,
      value[ozone][row] === 2 ? 1 : Number.NaN,
      Number.NaN,
      p,
      centerOf(baseline, discharge) ?? Number.NaN,
    ];
  },
  /** Not for how long: that goes on beside it while the alarm stands. */
  say([, , fault, , p], _unit, { value }) {
    const how = fault === 1 ? "The ozone cell reported a fault" : "The ozone was off";
    const moving = !Number.isNaN(p)
      ? `discharge pressure ${value("discharge_pressure", p)}`
      : "the motor ran loaded";
    return `${how} while water moved (${moving}): the pond gets no ozone.`;
  },
};
