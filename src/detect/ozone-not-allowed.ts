import { z } from "zod";
import { channelIndex } from "../terms/channels.ts";
import { ozoneFitted } from "./ozone.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const ozone = channelIndex.ozone;
const current = channelIndex.motor_current;

const settings = z.strictObject({
  /** A status that flickers for a reading or two is not ozone; what is on for half a minute feeds. */
  ...common({ delay: "30 s", off_delay: "30 s", priority: "high" }),
});

type Settings = z.output<typeof settings>;

/** Ozone is on at a unit that is marked as bypassed or without ozone: rules, season or people forbid it there. */
export const ozoneNotAllowed: Rule<Settings, null> = {
  alarm: "ozone-not-allowed",
  version: 1,
  needs: ["ozone"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "ozone_on", unit: "" },
    { name: "motor_current", unit: "A" },
  ],
  quiet: (unit) => (ozoneFitted(unit) === undefined ? "ozone is allowed here" : undefined),
  start: () => null,
  run(_memory, { value }, from, to, _settings, met) {
    const on = value[ozone];
    for (let row = from; row < to; row++) {
      const status = on[row];
      if (Number.isNaN(status)) met[row] = verdict.hold;
      else met[row] = status === 1 ? verdict.met : verdict.no;
    }
  },
  numbers: ({ value }, row) => [value[ozone][row], Number.NaN, value[current][row], Number.NaN],
  say([, , a], unit, { value }) {
    const marked = unit.ozone === "none" ? "without ozone" : "as bypassed";
    const motor = Number.isNaN(a) ? "" : `, motor current ${value("motor_current", a)}`;
    return `The ozone cell was on at a unit that is marked ${marked}${motor}.`;
  },
};
