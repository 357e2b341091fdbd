import { z } from "zod";
import { operating, someState } from "../condition/features.ts";
import {
  centerOf,
  primeEstablishedFraction,
  primingAllowedMs,
  waterPressureKPa,
} from "../condition/operating.ts";
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

/**
 * A small capacitor-start motor without its load draws 70–80 % of full load (common practice): below this share of
 * its nameplate it is not loaded.
 */
const unloadedShare = 0.85;
/** Before a baseline is known no water moves below this discharge pressure, kPa: a healthy pump may make less than 10 (house choice). */
const dryKPa = 3;

/**
 * A start has not established prime in the allowed time: discharge pressure never came. Before a baseline is known,
 * as in a log that begins within a fault, only where the nameplate tells that the motor is not loaded and there is
 * next to no pressure.
 */
export const failedToPrime: Rule<Settings, null> = {
  alarm: "failed-to-prime",
  version: 1,
  needs: ["motor_current", "discharge_pressure"],
  needsBaseline: ({ motor }) => motor.fullLoadCurrentA === undefined,
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
    const a = value[current];
    const unloadedA = unloadedShare * (features.unit.motor.fullLoadCurrentA ?? Number.NaN);
    for (let row = from; row < to; row++) {
      if (state[row] === operating.unknown) met[row] = verdict.hold;
      else if (state[row] !== operating.priming) met[row] = verdict.no;
      else if (Number.isNaN(p[row]) || (baseline === null && !(a[row] < unloadedA && p[row] < dryKPa)))
        met[row] = verdict.hold;
      else met[row] = sinceStartMs[row] > allowed ? verdict.met : verdict.hold;
    }
  },
  numbers({ baseline, sinceStartMs, value }, row, { allowed }) {
    const primed = primeEstablishedFraction * (centerOf(baseline, discharge) ?? Number.NaN);
    const clean = (signal: number) => centerOf(baseline, signal) ?? Number.NaN;
    return [
      sinceStartMs[row] / 1000,
      allowed / 1000,
      value[discharge][row],
      Number.isNaN(primed) ? waterPressureKPa : primed,
      value[current][row],
      clean(current),
    ];
  },
  say([runningFor, , p, pLimit, a, aBase], _unit, { value, against }) {
    const [pressure, primed] = against("discharge_pressure", p, pLimit);
    return (
      `The pump had not primed ${span(runningFor * 1000)} after its start: discharge pressure was ` +
      `${pressure} (primed from ${primed}) at ` +
      `${value("motor_current", a)}${Number.isNaN(aBase) ? "" : ` (baseline ${value("motor_current", aBase)})`}.`
    );
  },
};
