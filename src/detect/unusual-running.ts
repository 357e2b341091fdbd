import { z } from "zod";
import { type Baseline, type Features, operating, someState } from "../condition/features.ts";
import type { Spoken } from "../fleet/display.ts";
import { duration } from "../fleet/quantity.ts";
import type { Unit } from "../fleet/unit.ts";
import { contributions, tSquared } from "../statistics/hotelling.ts";
import { channelUnit } from "../terms/channels.ts";
import { minute, second } from "../terms/time.ts";
import { type CommonSettings, type Rule, verdict } from "./rule.ts";
import { type Averages, averageDeviations } from "./unusual-average.ts";
import { mostSignals, type UnusualModel, unusualModel, type Watched, watched } from "./unusual-model.ts";

/** What each sensitivity means. */
const sensitivities = {
  /**
   * For a unit alone at its pond: what a unit that is well wanders over days is usual. The delay is longer than
   * that of any alarm that could explain it.
   */
  normal: {
    wander: 1,
    chance: 0.001,
    averagedOverMs: 2 * minute,
    everyMs: 30 * second,
    settleMs: 10 * minute,
    back: 0.6,
    delay: 30 * minute,
    off_delay: minute,
  },
  /**
   * For a test run that somebody attends, held against clean running of the same hours: a tenth of that wander, and
   * the delays of somebody who looks.
   */
  high: {
    wander: 0.1,
    chance: 0.01,
    averagedOverMs: 20 * second,
    everyMs: 0,
    settleMs: 2 * minute,
    back: 1,
    delay: 10 * second,
    off_delay: 20 * second,
  },
} as const;

const settings = z
  .strictObject({
    /** `normal`, or `high` for attended test runs. */
    sensitivity: z.enum(["normal", "high"]).default("normal"),
    /** Default: by the sensitivity, 30 min or 10 s. */
    delay: duration().optional(),
    /** Default: by the sensitivity, 60 s or 20 s. */
    off_delay: duration().optional(),
    priority: z.enum(["high", "medium", "low"]).default("low"),
  })
  .transform((given): Settings => {
    const { delay, off_delay } = sensitivities[given.sensitivity];
    return { ...given, delay: given.delay ?? delay, off_delay: given.off_delay ?? off_delay };
  });

interface Settings extends CommonSettings {
  readonly sensitivity: keyof typeof sensitivities;
}

/**
 * What is left of a disturbance is not told again: for half an hour or so the running is unusual only beyond this
 * part of the largest T² (house choice; about 0.6 of the deviation). A unit rarely settles exactly where it was.
 */
const remainder = 1 / 3;
const rememberedOverMs = 30 * minute;

interface Memory extends Averages {
  /** The largest T² of the last disturbance, and when. */
  largest: number;
  largestAtMs: number;
}

/**
 * The channels together have left the unit's clean running: Hotelling's T² of their averages, each started at its
 * clean value as on a control chart, against the unit's own covariance. A missing channel keeps its average.
 */
export const unusualRunning: Rule<Settings, Memory> = {
  alarm: "unusual-running",
  version: 1,
  needs: [watched],
  needsBaseline: true,
  settings,
  evidence: [
    ...watched.map((name) => ({ name, unit: channelUnit[name], against: "baseline" as const })),
    { name: "distance", unit: "T²", against: "limit" },
  ],
  ownColumns: mostSignals,
  quiet: (_unit, baseline) =>
    baseline !== null && baseline.together === null
      ? "its clean running was too short to tell how its channels go together"
      : undefined,
  start: () => ({ averages: [], atMs: Number.NaN, largest: 0, largestAtMs: 0 }),
  run(memory, features, from, to, settings, met, own) {
    const model = modelAt(features, settings);
    if (model === null || !someState(features, operating.running, operating.unknown)) {
      met.fill(verdict.no, from, to);
      for (let row = from; row < to; row++) own[row * mostSignals] = Number.NaN;
      memory.averages = [];
      return;
    }
    const { back, ...judging } = sensitivities[settings.sensitivity];
    const before = memory.averages;
    const { count, rows, sums, averages } = averageDeviations(
      memory,
      model,
      features,
      from,
      to,
      judging,
      met,
    );
    const near = (back * model.limit) / model.most;
    // Until a disturbance nobody asks for the numbers of a row.
    let quiet = memory.largest === 0;
    for (let j = 0; j < count && quiet; j++) quiet = sums[j] < near;
    if (quiet) {
      for (let j = 0; j < count; j++) met[from + rows[j]] = verdict.no;
      return;
    }
    for (let row = from, j = 0; row < to; row++) {
      const told = toldAt(own, row);
      if (j < count && rows[j] === row - from) {
        for (let k = 0; k < model.mean.length; k++) told[k] = averages[k][j];
        met[row] = sums[j] < near ? verdict.no : judge(memory, model, features.timeMs[row], back, told);
        j++;
      } else if (features.state[row] !== operating.running || features.settledMs[row] < judging.settleMs) {
        told[0] = Number.NaN;
      } else if (row === from) {
        told.set(before);
      } else {
        told.set(toldAt(own, row - 1));
      }
    }
  },
  numbers(features, row, settings, own) {
    const model = modelAt(features, settings);
    const averages = toldAt(own, row);
    return model === null || Number.isNaN(averages[0]) ? nothingTold : evidenceAt(model, averages);
  },
  say: sayUnusual,
};

function toldAt(own: Float64Array, row: number): Float64Array {
  return own.subarray(row * mostSignals, (row + 1) * mostSignals);
}

/** Near the limit or beyond it: T² itself, and what is left of the last disturbance. */
function judge(
  memory: Memory,
  model: UnusualModel,
  timeMs: number,
  back: number,
  averages: Float64Array,
): number {
  const distance = tSquared(model.hotelling, averages);
  if (distance < back * model.limit) return verdict.no;
  const remembered = memory.largest * Math.exp((memory.largestAtMs - timeMs) / rememberedOverMs);
  if (distance >= remembered) {
    memory.largest = distance;
    memory.largestAtMs = timeMs;
  }
  if (distance < remainder * remembered) return verdict.no;
  return distance > model.limit ? verdict.met : verdict.hold;
}

const models = new WeakMap<Baseline, Map<string, UnusualModel | null>>();

/** The unit's model, made once for a baseline. */
function modelAt({ unit, baseline, intervalMs }: Features, { sensitivity }: Settings): UnusualModel | null {
  if (baseline === null) return null;
  const known = models.get(baseline) ?? new Map<string, UnusualModel | null>();
  models.set(baseline, known);
  const key = `${sensitivity} ${intervalMs}`;
  let model = known.get(key);
  if (model === undefined) {
    model = unusualModel(unit, baseline, sensitivities[sensitivity], intervalMs);
    known.set(key, model);
  }
  return model;
}

const nothingTold: readonly number[] = new Array(2 * (watched.length + 1)).fill(Number.NaN);

/** Channels that hold less than this part of the largest share are not named. */
const namedFrom = 0.3;

/** The channels that contribute most with their clean values, and T² with its limit. */
function evidenceAt(model: UnusualModel, averages: Float64Array): readonly number[] {
  const { mean, perSpread, hotelling, channels, limit } = model;
  const all = Array.from(averages.subarray(0, mean.length));
  const parts = contributions(hotelling, all);
  const most = Math.max(...parts);
  const numbers = watched.flatMap((channel) => {
    const own = parts.map((part, k) => (channels[k] === channel && part >= namedFrom * most ? part : 0));
    const k = own.indexOf(Math.max(...own));
    return own[k] > 0 ? [mean[k] + all[k] / perSpread[k], mean[k]] : [Number.NaN, Number.NaN];
  });
  return [...numbers, tSquared(hotelling, all), limit];
}

const nameOf: Readonly<Record<Watched, string>> = {
  motor_current: "current",
  suction_pressure: "suction",
  discharge_pressure: "discharge pressure",
  gas_pressure: "gas pressure",
  flow: "flow",
  gas_flow: "gas flow",
  voltage: "voltage",
  power: "power",
  vibration: "vibration",
};

/** `The running has left its clean pattern, and no other alarm tells why: current at 10.8 A, clean 9.3 A.` */
function sayUnusual(numbers: readonly number[], _unit: Unit, { value }: Spoken): string {
  const parts = watched.flatMap((channel, k) => {
    const [now, clean] = numbers.slice(2 * k, 2 * k + 2);
    return Number.isNaN(now)
      ? []
      : [`${nameOf[channel]} at ${value(channel, now)}, clean ${value(channel, clean)}`];
  });
  return `The running has left its clean pattern, and no other alarm tells why: ${parts.join("; ")}.`;
}
