import type { FeatureColumns } from "./condition-state.ts";
import type { Extremes } from "./extremes.ts";
import type { PhysicalRange } from "./physical-range.ts";

/** For how long a signal has read the same, and how it moved while it was clean. Plain data. */
export interface Repetition {
  /** Its last reading as it came, and since when it has been the same. */
  last: number;
  sinceMs: number;
  /** Held for frozen: not trusted until it reads something else. */
  frozen: boolean;
  /** Of the steps from reading to reading until the baseline is known: how many, their sum, the smallest that is none. */
  steps: number;
  stepSum: number;
  leastStep: number;
  learnedLast: number;
}

export function startRepetition(): Repetition {
  return {
    last: Number.NaN,
    sinceMs: Number.NaN,
    frozen: false,
    steps: 0,
    stepSum: 0,
    leastStep: Number.POSITIVE_INFINITY,
    learnedLast: Number.NaN,
  };
}

/** Fewer steps say nothing about how a signal moves. */
const fewestSteps = 20;
/**
 * A signal is lively where its mean step is at least this part of its resolution: then, wherever it stands
 * between two digits, normal noise repeats three readings in five at the most, and never so many in a row. A
 * coarser instrument may well read the same for hours.
 */
const livelySteps = 0.5;

/** Whether a healthy instrument would not read the same over many readings. */
export function isLively({ steps, stepSum, leastStep }: Repetition): boolean {
  return steps >= fewestSteps && stepSum >= livelySteps * leastStep * steps;
}

/** Mean step from reading to reading while it was clean; 0 where that is not known. */
export function meanStep({ steps, stepSum }: Repetition): number {
  return steps >= fewestSteps ? stepSum / steps : 0;
}

/** Takes in how a signal moves while the pump runs with its prime; `beforeMs` is the time of the row before `from`. */
export function learnSteps(
  signal: Repetition,
  column: Float64Array,
  timeMs: Float64Array,
  { settledMs }: Pick<FeatureColumns, "settledMs">,
  from: number,
  to: number,
  beforeMs: number | null,
): void {
  for (let row = from; row < to; row++) {
    const x = column[row];
    if (!(settledMs[row] > 0)) signal.learnedLast = Number.NaN;
    // A row that completes one of the same time repeats its values.
    if (
      Number.isNaN(x) ||
      !(settledMs[row] > 0) ||
      timeMs[row] === (row === from ? beforeMs : timeMs[row - 1])
    ) {
      continue;
    }
    const step = Math.abs(x - signal.learnedLast);
    if (step >= 0) {
      signal.steps++;
      signal.stepSum += step;
      if (step > 0 && step < signal.leastStep) signal.leastStep = step;
    }
    signal.learnedLast = x;
  }
}

/** What the readings of a stretch are like. */
export interface Followed extends Extremes {
  /** Some reading is out of its range, or a leap away from the one before. */
  readonly odd: boolean;
  /** The signal was the same for `suspectMs` somewhere. */
  readonly equal: boolean;
}

/** Follows the readings of rows `from…to`: odd are those out of `range` and steps of more than `leap`. */
export function followReadings(
  signal: Repetition,
  timeMs: Float64Array,
  column: Float64Array,
  { low, high }: PhysicalRange,
  leap: number,
  suspectMs: number,
  from: number,
  to: number,
): Followed {
  let { last, sinceMs } = signal;
  let leapt = false;
  let equal = false;
  let missing = false;
  let least = last;
  let greatest = last;
  for (let row = from; row < to; row++) {
    const x = column[row];
    if (x === last) continue;
    if (Number.isNaN(x)) {
      missing = true;
      continue;
    }
    // Written so that nothing is less or greater than a value that is not known yet.
    if (!(x >= least)) least = x;
    if (!(x <= greatest)) greatest = x;
    if (x - last > leap || last - x > leap) leapt = true;
    const t = timeMs[row];
    if (t - sinceMs > suspectMs) equal = true;
    sinceMs = t;
    last = x;
  }
  if (to > from && timeMs[to - 1] - sinceMs >= suspectMs) equal = true;
  signal.last = last;
  signal.sinceMs = sinceMs;
  const odd = leapt || least < low || greatest > high;
  return { odd, equal, least: missing ? Number.NaN : least, greatest: missing ? Number.NaN : greatest };
}

/** Writes for each row how long the signal has been the same, ms; `before` is how it stood at `from`. */
export function equalFor(
  before: Repetition,
  timeMs: Float64Array,
  column: Float64Array,
  from: number,
  to: number,
  into: Float64Array,
): Float64Array {
  let { last, sinceMs } = before;
  for (let row = from; row < to; row++) {
    const x = column[row];
    if (x !== last && !Number.isNaN(x)) {
      last = x;
      sinceMs = timeMs[row];
    }
    into[row] = timeMs[row] - sinceMs;
  }
  return into;
}
