import { z } from "zod";
import { operating, water } from "../condition/features.ts";
import { duration } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute, span } from "../terms/time.ts";
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
  run(memory, features, from, to, { delay, cycle_factor, before_baseline }, met, evidence) {
    const { baseline, state, timeMs, value } = features;
    const cycleMs = baseline ? cycle_factor * (baseline.ozoneOffSpellMs ?? 0) : before_baseline;
    const center = baseline?.signals[discharge]?.center ?? Number.NaN;
    const [offFor, offLimit, fault, , p, pBase] = evidence;
    for (let row = from; row < to; row++) {
      const status = value[ozone][row];
      p[row] = value[discharge][row];
      pBase[row] = center;
      if (state[row] !== operating.running || features.water[row] === water.still || status === 1) {
        memory.offSinceMs = null;
        met[row] = state[row] === operating.unknown ? verdict.hold : verdict.no;
        continue;
      }
      if (Number.isNaN(status)) {
        met[row] = verdict.hold;
        continue;
      }
      memory.offSinceMs ??= timeMs[row];
      const off = timeMs[row] - memory.offSinceMs;
      offFor[row] = off / 1000;
      offLimit[row] = Math.max(delay, cycleMs) / 1000;
      fault[row] = status === 2 ? 1 : Number.NaN;
      met[row] = status === 2 || off >= cycleMs ? verdict.met : verdict.hold;
    }
  },
  say([offFor, , fault, , p], _unit, { value }) {
    const how = fault === 1 ? "The ozone cell reported a fault" : "The ozone was off";
    const forTime = offFor > 0 ? ` for ${span(offFor * 1000)}` : "";
    const moving = !Number.isNaN(p)
      ? `discharge pressure ${value("discharge_pressure", p)}`
      : "the motor ran loaded";
    return `${how}${forTime} while water moved (${moving}): the pond gets no ozone.`;
  },
};
