import { z } from "zod";
import { type Baseline, type Features, operating, someState } from "../condition/features.ts";
import { duration } from "../fleet/quantity.ts";
import { tSquared } from "../statistics/hotelling.ts";
import { minute, second } from "../terms/time.ts";
import { type CommonSettings, type Rule, verdict } from "./rule.ts";
import { type Averages, averageDeviations } from "./unusual-average.ts";
import { mostSignals, type UnusualModel, unusualModel, watched } from "./unusual-model.ts";
import { sayUnusual, unusualEvidence, unusualNumbers } from "./unusual-words.ts";

/** What each sensitivity means. */
const sensitivities = {
  /**
   * For a unit alone at its pond: what a unit that is well wanders over days is usual. The delay is longer than
   * that of any alarm that could explain it. Averages and deadband are off-delay enough: it is to be over before
   * such an alarm is.
   */
  normal: {
    wander: 1,
    chance: 0.001,
    averagedOverMs: minute,
    everyMs: 30 * second,
    settleMs: 10 * minute,
    back: 0.6,
    delay: 30 * minute,
    off_delay: 0,
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
    /** Default: by the sensitivity, none or 20 s. */
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
  evidence: unusualEvidence,
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
      memory.atMs = Number.NaN;
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
  numbers: (features, row, settings, own) =>
    unusualNumbers(modelAt(features, settings), toldAt(own, row), features, row),
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
