import { z } from "zod";
import { operating, someState } from "../condition/features.ts";
import { channelIndex } from "../terms/channels.ts";
import { span } from "../terms/time.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const ozone = channelIndex.ozone;
const current = channelIndex.motor_current;

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "30 s", priority: "high" }),
});

type Settings = z.output<typeof settings>;

/**
 * The ozone stays on after the motor has stopped: gas without water gathers in the line, the generator
 * and the enclosure. Judged at every unit that reports ozone, bypassed or not.
 */
export const ozoneWhileStopped: Rule<Settings, null> = {
  alarm: "ozone-while-stopped",
  version: 1,
  needs: ["motor_current", "ozone"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "motor_stopped_for", unit: "s", against: "limit" },
    { name: "motor_current", unit: "A" },
  ],
  start: () => null,
  run(_memory, features, from, to, _settings, met) {
    if (!someState(features, operating.stopped, operating.unknown)) {
      met.fill(verdict.no, from, to);
      return;
    }
    const { state, value } = features;
    const on = value[ozone];
    for (let row = from; row < to; row++) {
      const status = on[row];
      if (state[row] === operating.unknown) met[row] = verdict.hold;
      else if (state[row] !== operating.stopped) met[row] = verdict.no;
      else if (Number.isNaN(status)) met[row] = verdict.hold;
      else met[row] = status === 1 ? verdict.met : verdict.no;
    }
  },
  numbers({ sinceStopMs, value }, row, { delay }) {
    return [sinceStopMs[row] / 1000, delay / 1000, value[current][row], Number.NaN];
  },
  say([stoppedFor, , a], _unit, { value }) {
    const after = Number.isNaN(stoppedFor) ? "" : ` ${span(stoppedFor * 1000)} after it stopped`;
    return `The ozone was on although the motor stood still (${value("motor_current", a)})${after}.`;
  },
};
