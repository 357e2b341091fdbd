import { z } from "zod";
import { operating } from "../condition/features.ts";
import { centerOf, runningCurrentA } from "../condition/operating.ts";
import { channelIndex } from "../terms/channels.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const current = channelIndex.motor_current;
const voltage = channelIndex.voltage;
const runCommand = channelIndex.run_command;

/** The lower of the usual voltages, where neither nameplate nor baseline tells, V (common practice). */
const leastUsualV = 115;

const settings = z.strictObject({
  /**
   * The off-delay outlasts the runs of a motor whose starts fail, or whose protector opens again after minutes
   * (common practice), so that they are one alarm.
   */
  ...common({ delay: "30 s", off_delay: "10 min", priority: "high" }),
  /** Below this part of the nameplate's voltage, or of the clean one, there is no supply: no motor turns on it (house choice). */
  no_supply: z.number().gt(0).lt(1).default(0.3),
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
    { name: "voltage", unit: "V", against: "limit" },
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
  numbers({ unit, baseline, value }, row, { no_supply }) {
    const v = value[voltage][row];
    const usualV = unit.motor.voltageV ?? centerOf(baseline, voltage) ?? leastUsualV;
    return [
      value[current][row],
      runningCurrentA(unit, centerOf(baseline, current)),
      v,
      no_supply * usualV,
      value[runCommand][row],
      Number.NaN,
    ];
  },
  say([a, , v, noSupply, command], unit, { value }) {
    const why = !Number.isNaN(command) ? "it is commanded to" : scheduleWords(unit.runs?.kind);
    const draws = !Number.isNaN(a) ? `the motor drew ${value("motor_current", a)}` : "the motor stood still";
    return `The unit should run (${why}) and ${draws}${supplyWords(v, noSupply, value("voltage", v))}.`;
  },
};

function supplyWords(v: number, noSupply: number, said: string): string {
  if (Number.isNaN(v)) return "";
  if (v < noSupply) return `: no supply (${said})`;
  return ` although there is supply (${said}): its protector, its switch or the motor itself keeps it from running`;
}

function scheduleWords(kind: string | undefined): string {
  return kind === "windows" ? "by its daily window" : "always";
}
