import { z } from "zod";
import { operating } from "../condition/features.ts";
import { centerOf, runningCurrentA } from "../condition/operating.ts";
import { channelIndex } from "../terms/channels.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const current = channelIndex.motor_current;
const voltage = channelIndex.voltage;
const runCommand = channelIndex.run_command;

const settings = z.strictObject({
  /** The off-delay outlasts the short runs of a motor whose starts fail, so that they are one alarm. */
  ...common({ delay: "30 s", off_delay: "2 min", priority: "high" }),
});

type Settings = z.output<typeof settings>;

/** The unit should be running, by its schedule or its command, and has no current, or its starts fail. */
export const notRunning: Rule<Settings, null> = {
  alarm: "not-running",
  version: 1,
  needs: ["motor_current"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "motor_current", unit: "A", against: "limit" },
    { name: "voltage", unit: "V" },
    { name: "run_command", unit: "" },
  ],
  start: () => null,
  run(_memory, features, from, to, _settings, met) {
    const { state, wanted } = features;
    for (let row = from; row < to; row++) {
      if (state[row] === operating.unknown || wanted[row] === 2) met[row] = verdict.hold;
      else met[row] = wanted[row] === 1 && state[row] === operating.stopped ? verdict.met : verdict.no;
    }
  },
  numbers({ unit, baseline, value }, row) {
    return [
      value[current][row],
      runningCurrentA(unit, centerOf(baseline, current)),
      value[voltage][row],
      Number.NaN,
      value[runCommand][row],
      Number.NaN,
    ];
  },
  say([a, , v, , command], unit, { value }) {
    const why = !Number.isNaN(command) ? "it is commanded to" : scheduleWords(unit.runs?.kind);
    const draws = !Number.isNaN(a) ? `the motor drew ${value("motor_current", a)}` : "the motor stood still";
    const supply = !Number.isNaN(v) ? ` at ${value("voltage", v)} supply` : "";
    return `The unit should run (${why}) and ${draws}${supply}.`;
  },
};

function scheduleWords(kind: string | undefined): string {
  return kind === "windows" ? "by its daily window" : "always";
}
