import { z } from "zod";
import { operating } from "../condition/features.ts";
import { duration, quantity } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import { windingLimitC } from "../physics/insulation.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute, second, span } from "../terms/time.ts";
import { type CleanRise, learnRise, startCleanRise } from "./clean-rise.ts";
import { type Rule, verdict } from "./rule.ts";
import { common } from "./settings.ts";
import { startWarming, type Warming, warm } from "./warming.ts";

const temperature = channelIndex.motor_temperature;
const ambient = channelIndex.ambient_temperature;

/**
 * Shell temperature limits, °C. B and F: common practice. A keeps B's 40 K below the winding limit; H
 * stays at F's, since bearings and grease set the limit there (house choices).
 */
export const shellLimitC = { A: 65, B: 90, F: 105, H: 105 } as const;

const settings = z.strictObject({
  ...common({ delay: "60 s", off_delay: "60 s", priority: "high" }),
  /** Overrides the limit by insulation class and place of measurement; never past that of class H. */
  limit: quantity("°C", { max: windingLimitC.H }).optional(),
  /** Where ambient temperature is measured: rise over ambient past its clean one at the shell (common practice); at a winding 1.6 times as much. */
  rise_over_baseline: quantity("K").default(15),
  /** Clears this far below the limit. */
  deadband: quantity("K").default(2),
  /**
   * Told so long before the limit is reached at the present rate. Shorter than the time constant of any such motor,
   * 15–30 min (common practice): so warming up to below the limit is never carried past it. 0 s: not before.
   */
  ahead: duration().default(10 * minute),
  /** A winding goes up within minutes of a start, and a shell that stood in the sun cools (common practice); until then the clean rise is not held against it. */
  after_start: duration().default(5 * minute),
  /** A motor warms up from a start for a time constant or two (common practice); until then no rate is carried on. */
  rate_after_start: duration().default(30 * minute),
});

type Settings = z.output<typeof settings>;

interface Memory {
  /** The limit has been reached since it was last well below. */
  passed: boolean;
  warming: Warming;
  rise: CleanRise;
}

/** A winding stands so much further above the air than its shell: 80 K at class B to some 50 K (common practice). */
const windingFactor = 1.6;

/** The limit by the nameplate and the place of measurement, °C; class B where the nameplate is not given. */
export function temperatureLimitC(unit: Unit, limit?: number): number {
  if (limit !== undefined) return limit;
  const insulation = unit.motor.insulationClass ?? "B";
  return unit.motor.temperatureAt === "winding" ? windingLimitC[insulation] : shellLimitC[insulation];
}

/** A motor that falls faster than this is on its way down to where it belongs: 6 K an hour, more than an evening (house choice). */
const coolingPerMs = 0.1 / minute;
/** A motor that stands has cooled when it is so far below its limit: till then its next start is the same trouble (house choice). */
const cooledK = 15;

/** A first-order motor warms ever more slowly; the quickest such motor has this time constant (common practice: 15–30 min). */
const quickestMs = 15 * minute;
/** The interval of the rate: so many standard errors either way. */
const errorsWide = 2;

/** The rates of warming of one `run` call and their errors; made once and used again by the next. */
let rates = new Float64Array(0);
let errors = new Float64Array(0);

/**
 * Motor temperature is past its limit, or will be within ten minutes at its present rate. The limit is the insulation
 * class's for a winding sensor, and a lower one at the shell; where ambient is measured, 15 K above the unit's clean
 * rise over it at the shell, 24 K at a winding, if that is lower.
 */
export const overheating: Rule<Settings, Memory> = {
  alarm: "overheating",
  version: 5,
  needs: ["motor_temperature"],
  needsBaseline: false,
  settings,
  evidence: [
    { name: "motor_temperature", unit: "°C", against: "limit" },
    { name: "ambient_temperature", unit: "°C" },
    { name: "baseline_rise", unit: "K" },
    { name: "warming_per_minute", unit: "K/min" },
    { name: "limit_reached_in", unit: "s" },
  ],
  limits: (unit, _baseline, { limit }) => [
    { channel: "motor_temperature", side: "high", value: temperatureLimitC(unit, limit) },
  ],
  start: () => ({
    passed: false,
    warming: startWarming(),
    rise: startCleanRise(),
  }),
  ownColumns: 4,
  /** What was said to come is said anew once it has come. */
  restates: true,
  /** `own`: 1 once past the limit, else 0; the clean rise over the air that the row is held against, K; the rate of warming and its error, K per ms. */
  run(memory, features, from, to, set, met, own) {
    const { unit, intervalMs, sinceStartMs, state, timeMs, value } = features;
    const fixed = temperatureLimitC(unit, set.limit);
    const t = value[temperature];
    const air = value[ambient];
    const more = allowedMoreK(unit, set);
    if (rates.length < timeMs.length) {
      rates = new Float64Array(timeMs.length);
      errors = new Float64Array(timeMs.length);
    }
    warm(memory.warming, { intervalMs, timeMs, sinceStartMs, temperatureC: t }, from, to, rates, errors);
    for (let row = from; row < to; row++) {
      const now = t[row];
      const stands = Number.isNaN(sinceStartMs[row]);
      if (Number.isNaN(now)) {
        met[row] = verdict.hold;
        own.fill(Number.NaN, 4 * row, 4 * row + 4);
        continue;
      }
      const warming = rates[row];
      const rate = sinceStartMs[row] >= set.rate_after_start ? warming : 0;
      const runs = state[row] === operating.running;
      if (runs) learnRise(memory.rise, unit, timeMs[row], sinceStartMs[row], now - air[row]);
      const clean = memory.rise.meanK ?? Number.NaN;
      const limit = limitAt(fixed, air[row], clean + more);
      own[4 * row + 1] = clean;
      own[4 * row + 2] = rate;
      own[4 * row + 3] = errors[row];
      const soon = Math.max(now, now + rate * set.ahead);
      // A motor that was hot and cools is no hotter than it should be; nor does one tell that has only just started.
      const tells = runs && sinceStartMs[row] >= set.after_start && warming > -coolingPerMs;
      if (soon >= fixed || (soon >= limit && tells)) met[row] = verdict.met;
      else met[row] = soon < limit - (stands ? cooledK : set.deadband) ? verdict.no : verdict.hold;
      memory.passed = met[row] !== verdict.no && (memory.passed || now >= limit);
      own[4 * row] = memory.passed ? 1 : 0;
    }
  },
  numbers({ unit, value }, row, set, own) {
    const fixed = temperatureLimitC(unit, set.limit);
    const [t, air] = [value[temperature][row], value[ambient][row]];
    const [, clean, rate, error] = own.subarray(4 * row, 4 * row + 4);
    const limit = limitAt(fixed, air, clean + allowedMoreK(unit, set));
    const byRise = limit < fixed;
    const leftS = t < limit && rate > 0 ? (limit - t) / rate / second : Number.NaN;
    const none = Number.NaN;
    return [
      ...[t, limit],
      ...[byRise ? air : none, none],
      ...[byRise ? clean : none, none],
      ...[Number.isNaN(leftS) ? none : rate * minute, none],
      ...[leftS, none],
      Math.min(leftS, reachedInS(limit - t, rate + errorsWide * error, Number.POSITIVE_INFINITY)),
      reachedInS(limit - t, rate - errorsWide * error, quickestMs),
    ];
  },
  say([t, limit, air, , clean, , , , leftS, , soonestS, latestS], unit, { against, difference }) {
    const place = unit.motor.temperatureAt === "winding" ? "winding" : "shell";
    const [now, most] = against("motor_temperature", t, limit);
    const which = Number.isNaN(clean) ? `its limit of ${most}` : most;
    const passed = now === most ? `had reached ${which}` : `was at ${now}, past ${which}`;
    const said = Number.isNaN(leftS)
      ? `The motor's ${place} ${passed}`
      : `The motor's ${place} was at ${now} and will be past ${which} ${within(soonestS, latestS)} if it goes on warming as it does`;
    if (Number.isNaN(clean)) return `${said}.`;
    return `${said}: it ran ${difference(t - air)} above the air and ran ${difference(clean)} above it when clean.`;
  },
};

/**
 * When a motor that warms by `rate` (K per ms) has gone up by `leftK`, s: along a line, or with the time constant of
 * a first-order motor; +∞ where that ends below. Source: T(t) = T + r τ (1 − exp(−t / τ)).
 */
function reachedInS(leftK: number, rate: number, timeConstantMs: number): number {
  if (!(rate > 0)) return Number.POSITIVE_INFINITY;
  if (timeConstantMs === Number.POSITIVE_INFINITY) return leftK / rate / second;
  const share = leftK / (rate * timeConstantMs);
  return share < 1 ? (-timeConstantMs * Math.log1p(-share)) / second : Number.POSITIVE_INFINITY;
}

/** `in 4 min to 7 min`; a fast one may still end below its limit. */
function within(soonestS: number, latestS: number): string {
  const soonest = span(soonestS * second);
  if (latestS === Number.POSITIVE_INFINITY) return `in ${soonest} at the soonest, or stay just below,`;
  const latest = span(latestS * second);
  return soonest === latest ? `in ${soonest}` : `in ${soonest} to ${latest}`;
}

/** How much further above the air than when clean the motor may stand, K. */
function allowedMoreK({ motor }: Unit, { rise_over_baseline }: Settings): number {
  return motor.temperatureAt === "winding" ? windingFactor * rise_over_baseline : rise_over_baseline;
}

/** The limit of one reading, °C: the fixed one, or the air's temperature and the allowed rise where that is known and lower. */
function limitAt(fixedC: number, airC: number, allowedRiseK: number): number {
  const byRise = airC + allowedRiseK;
  return Number.isNaN(byRise) ? fixedC : Math.min(byRise, fixedC);
}
