import { z } from "zod";
import { type Baseline, type Features, operating } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { duration } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import { overloadSettingA } from "../physics/overload.ts";
import { heatKept, steadyHeat, type ThermalReplica } from "../physics/thermal-replica.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute, second, span } from "../terms/time.ts";
import { startingCurrentA } from "./locked-rotor.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";

const current = channelIndex.motor_current;
const voltage = channelIndex.voltage;

const settings = z.strictObject({
  ...common({ delay: "30 s", off_delay: "2 min", priority: "high" }),
  /**
   * What the motor bears for ever, as a multiple of full load × service factor: the factor k of IEC 60255-149, 1.05
   * in its examples (from memory). Never more than NEC 430.32(A)(1) lets an overload device be set to.
   */
  bears: z.number().min(0.8).max(1.5).default(1.05),
  /** Without a full-load current: a multiple of the clean current. An open line adds a tenth, no clean pump a quarter (house choice). */
  over_baseline: z.number().gt(1).default(1.25),
  /** Time constant of the motor's heat: 15–30 min for a small fan-cooled motor (common practice). */
  time_constant: duration({ above: 0 }).default(20 * minute),
  /** A motor without its fan cools so many times slower: 2 to 4 (common practice). */
  slower_stopped: z.number().min(1).default(3),
  /** Current past the limit for so long is told before the heat is used up, which takes hours at a few per cent (house choice). */
  allowed: duration().default(10 * minute),
  /** A supply below this part of the nameplate's voltage is low: 106 V at a 115 V motor (ANSI C84.1, range B at the motor, from memory). */
  low_voltage: z.number().gt(0).lt(1).default(0.92),
});

type Settings = z.output<typeof settings>;

interface Memory {
  /** Heat as a share of what the motor bears; NaN before the first reading. */
  heat: number;
  /** The reading before: its time, ms, and the motor's current, A, 0 where it stood. */
  beforeMs: number;
  beforeA: number;
  /** Since when the current is past the limit, ms; NaN while it is not. */
  pastSinceMs: number;
}

/** Below this heat an overload is over; a motor at full load ends at 0.91. */
const normalHeat = 0.95;
/** A motor that stands has cooled enough for another start below this heat (house choice). */
const restedHeat = 0.5;
/** A step of more intervals than this, and of more than a minute, was not seen. */
const seenIntervals = 5;

/** The current borne for ever, A; undefined where neither nameplate nor baseline tells. */
function bearableA(unit: Unit, baseline: Baseline | null, set: Settings): number | undefined {
  const { fullLoadCurrentA: full, serviceFactor = 1 } = unit.motor;
  if (full !== undefined) {
    return Math.min(set.bears * full * serviceFactor, overloadSettingA(full, { serviceFactor }));
  }
  const clean = centerOf(baseline, current);
  return clean === undefined ? undefined : set.over_baseline * clean;
}

/** What the motor's supply should be, V; NaN where that is not known. */
function ratedV({ unit, baseline }: Features): number {
  return unit.motor.voltageV ?? centerOf(baseline, voltage) ?? Number.NaN;
}

/**
 * The motor's thermal replica (IEC 60255-149) is used up, or its current has been past its limit for ten minutes.
 * The replica begins warm from full load. It takes the lesser of each two readings, so that a start seen in one of
 * them counts for nothing, and a gap in the log for no more than full load.
 */
export const overcurrent: Rule<Settings, Memory> = {
  alarm: "overcurrent",
  version: 1,
  needs: ["motor_current"],
  needsBaseline: ({ motor }) => motor.fullLoadCurrentA === undefined,
  settings,
  evidence: [
    { name: "motor_current", unit: "A", against: "limit" },
    { name: "past_limit_for", unit: "s", against: "limit" },
    { name: "thermal_load", unit: "%", against: "limit" },
    { name: "voltage", unit: "V", against: "limit" },
  ],
  ownColumns: 2,
  limits(unit, baseline, set) {
    const value = bearableA(unit, baseline, set);
    return value === undefined ? [] : [{ channel: "motor_current", side: "high", value }];
  },
  start: () => ({ heat: Number.NaN, beforeMs: Number.NaN, beforeA: Number.NaN, pastSinceMs: Number.NaN }),
  /** `own`: the heat, and for how long the current has been past its limit, ms, NaN where it is not. */
  run(memory, features, from, to, set, met, own) {
    const limitA = bearableA(features.unit, features.baseline, set);
    if (limitA === undefined) {
      met.fill(verdict.hold, from, to);
      own.fill(Number.NaN, 2 * from, 2 * to);
      return;
    }
    const { intervalMs, state, timeMs, value } = features;
    const fullA = limitA / set.bears;
    const startingA = startingCurrentA(features);
    const seenMs = Math.max(seenIntervals * intervalMs, minute);
    const turning: ThermalReplica = { bearableCurrentA: limitA, timeConstantS: set.time_constant / second };
    const standing = { ...turning, timeConstantS: turning.timeConstantS * set.slower_stopped };
    const amps = value[current];
    let { heat, beforeMs, beforeA, pastSinceMs } = memory;
    if (Number.isNaN(heat)) heat = steadyHeat(turning, fullA);
    let kept = Number.NaN;
    let keptOf = standing;
    let keptMs = Number.NaN;
    for (let row = from; row < to; row++) {
      const stands = state[row] === operating.stopped;
      const a = stands ? 0 : amps[row];
      own[2 * row] = heat;
      own[2 * row + 1] = Number.NaN;
      if (state[row] === operating.unknown || Number.isNaN(a)) {
        met[row] = verdict.hold;
        continue;
      }
      const t = timeMs[row];
      const stepMs = t - beforeMs;
      const seen = stepMs <= seenMs;
      const least = Math.min(a, beforeA);
      const replica = least > 0 ? turning : standing;
      if (stepMs > 0 && !Number.isNaN(least)) {
        if (stepMs !== keptMs || replica !== keptOf) {
          kept = heatKept(replica, stepMs / second);
          keptMs = stepMs;
          keptOf = replica;
        }
        heat = kept * heat + (1 - kept) * steadyHeat(replica, seen || least < fullA ? least : fullA);
      }
      if (least >= limitA) {
        if (!seen || Number.isNaN(pastSinceMs)) pastSinceMs = t;
      } else if (!seen || stands || (a < limitA && beforeA < limitA)) pastSinceMs = Number.NaN;
      beforeMs = t;
      beforeA = a;
      const past = heat >= 1 || t - pastSinceMs >= set.allowed;
      own[2 * row] = heat;
      own[2 * row + 1] = t - pastSinceMs;
      // The current of a start that does not end is told by its own alarm, where the log can show it.
      if (stands) met[row] = heat >= restedHeat ? verdict.hold : verdict.no;
      else if (past && a >= limitA && a < startingA) met[row] = verdict.met;
      else met[row] = past || heat >= normalHeat ? verdict.hold : verdict.no;
    }
    Object.assign(memory, { heat, beforeMs, beforeA, pastSinceMs });
  },
  numbers(features, row, set, own) {
    const v = features.value[voltage][row];
    const rated = ratedV(features);
    const low = set.low_voltage * rated;
    const a = features.value[current][row];
    return [
      a,
      bearableA(features.unit, features.baseline, set) ?? Number.NaN,
      own[2 * row + 1] / second,
      set.allowed / second,
      own[2 * row] * 100,
      100,
      v < low ? v : Number.NaN,
      low,
      // What the same work would draw at the rated voltage.
      (a * v) / rated,
    ];
  },
  say([a, limit, pastS, , heat, , v, low, ratedA], unit, { value, against }) {
    const { fullLoadCurrentA: full, serviceFactor = 1 } = unit.motor;
    const basis =
      full === undefined
        ? ""
        : ` (full load ${value("motor_current", full)}${serviceFactor > 1 ? `, service factor ${serviceFactor}` : ""})`;
    const forTime = pastS > 0 ? ` for ${span(pastS * second)}` : "";
    const usedUp = heat >= 100 ? `: its thermal capacity is used up (${Math.round(heat)} %)` : "";
    const said =
      `The motor drew ${value("motor_current", a)}${forTime}, ${Math.max(1, Math.round(100 * (a / limit - 1)))} % more ` +
      `than it bears for long${basis}${usedUp}`;
    if (Number.isNaN(v)) return `${said}.`;
    const part = ratedA < limit ? "Low voltage is the cause" : "The voltage is low too";
    const [now, least] = against("voltage", v, low);
    return `${said}. ${part}: ${now} at the motor, low from ${least} down.`;
  },
};
