import { z } from "zod";
import { operating, someState } from "../condition/features.ts";
import { channelIndex } from "../terms/channels.ts";
import { second, span } from "../terms/time.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const ozone = channelIndex.ozone;
const current = channelIndex.motor_current;
const power = channelIndex.power;
/** A delay lasts for so many sample intervals at least. */
const delayIntervals = 3;

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
  needs: [["motor_current", "power", "run_command"], "ozone"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "motor_stopped_for", unit: "s", against: "limit" },
    { name: "motor_current", unit: "A" },
    { name: "power", unit: "W" },
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
  numbers({ intervalMs, sinceStopMs, value }, row, { delay }) {
    const a = value[current][row];
    const none = Number.NaN;
    const w = Number.isNaN(a) ? value[power][row] : none;
    return [
      sinceStopMs[row] / second,
      Math.max(delay, delayIntervals * intervalMs) / second,
      ...[a, none],
      ...[w, none],
    ];
  },
  say([stoppedFor, , a, , w], _unit, { value }) {
    const after = Number.isNaN(stoppedFor) ? "" : ` ${span(stoppedFor * second)} after it stopped`;
    const shown = Number.isNaN(a)
      ? Number.isNaN(w)
        ? undefined
        : value("power", w)
      : value("motor_current", a);
    const still = shown === undefined ? "was not commanded to run" : `stood still (${shown})`;
    return `The ozone was on although the motor ${still}${after}.`;
  },
};
