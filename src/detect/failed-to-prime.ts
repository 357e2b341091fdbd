import { z } from "zod";
import { operating, someState } from "../condition/features.ts";
import { centerOf, primeEstablishedFraction, primingAllowedMs } from "../condition/operating.ts";
import { duration } from "../fleet/quantity.ts";
import { channelIndex } from "../terms/channels.ts";
import { span } from "../terms/time.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const current = channelIndex.motor_current;
const discharge = channelIndex.discharge_pressure;

const settings = z.strictObject({
  /** No delay of its own: the allowed time is the delay. */
  ...common({ delay: "0 s", off_delay: "30 s", priority: "high" }),
  /** How long a start may take to establish prime (common practice 5 min). */
  allowed: duration().default(primingAllowedMs),
});

type Settings = z.output<typeof settings>;

/** A start that was seen has not established prime in the allowed time: discharge pressure never came. */
export const failedToPrime: Rule<Settings, null> = {
  alarm: "failed-to-prime",
  version: 1,
  needs: ["motor_current", "discharge_pressure"],
  needsBaseline: true,
  settings,
  evidence: [
    { name: "running_for", unit: "s", against: "limit" },
    { name: "discharge_pressure", unit: "kPa", against: "limit" },
    { name: "motor_current", unit: "A", against: "baseline" },
  ],
  start: () => null,
  run(_memory, features, from, to, { allowed }, met) {
    const { baseline, state, sinceStartMs, value } = features;
    if (!someState(features, operating.priming, operating.unknown)) {
      met.fill(verdict.no, from, to);
      return;
    }
    const p = value[discharge];
    for (let row = from; row < to; row++) {
      if (state[row] === operating.unknown) met[row] = verdict.hold;
      else if (state[row] !== operating.priming) met[row] = verdict.no;
      else if (baseline === null || Number.isNaN(p[row])) met[row] = verdict.hold;
      else met[row] = sinceStartMs[row] > allowed ? verdict.met : verdict.hold;
    }
  },
  numbers({ baseline, sinceStartMs, value }, row, { allowed }) {
    const clean = (signal: number) => centerOf(baseline, signal) ?? Number.NaN;
    return [
      sinceStartMs[row] / 1000,
      allowed / 1000,
      value[discharge][row],
      primeEstablishedFraction * clean(discharge),
      value[current][row],
      clean(current),
    ];
  },
  say([runningFor, , p, pLimit, a, aBase], _unit, { value }) {
    return (
      `The pump had not primed ${span(runningFor * 1000)} after its start: discharge pressure was ` +
      `${value("discharge_pressure", p)} (primed from ${value("discharge_pressure", pLimit)}) at ` +
      `${value("motor_current", a)} (baseline ${value("motor_current", aBase)}).`
    );
  },
};
