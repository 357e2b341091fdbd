/** Where the learning of a unit's sample interval stands. Plain data, part of a checkpoint. */
export interface IntervalState {
  /** What the fleet file says, ms; null where it is learned. */
  readonly givenMs: number | null;
  lastMs: number | null;
  /** The first positive steps between readings, ms, in rising order. */
  readonly stepsMs: number[];
}

const stepsToLearn = 30;
const untilKnownMs = 10_000;

/** Nothing learned yet; `givenMs` is the fleet file's `sample_interval`. */
export function newInterval(givenMs?: number): IntervalState {
  return { givenMs: givenMs ?? null, lastMs: null, stepsMs: [] };
}

/** Whether the interval no longer changes. */
export function intervalIsFixed(state: IntervalState): boolean {
  return state.givenMs !== null || state.stepsMs.length >= stepsToLearn;
}

/** Whether the fleet file or at least one step tells the interval. */
export function intervalIsSeen(state: IntervalState): boolean {
  return state.givenMs !== null || state.stepsMs.length > 0;
}

/** Takes the time of the next reading, ms: the first 30 positive steps are learned from. */
export function learnInterval(state: IntervalState, timeMs: number): void {
  if (intervalIsFixed(state)) return;
  const stepMs = state.lastMs === null ? 0 : timeMs - state.lastMs;
  if (state.lastMs === null || stepMs > 0) state.lastMs = timeMs;
  if (stepMs <= 0) return;
  let at = state.stepsMs.length;
  while (at > 0 && (state.stepsMs[at - 1] ?? 0) > stepMs) at--;
  state.stepsMs.splice(at, 0, stepMs);
}

/** The sample interval, ms: the given one, else the median of the steps so far; 10 s before the first. */
export function intervalMs(state: IntervalState): number {
  if (state.givenMs !== null) return state.givenMs;
  const { stepsMs } = state;
  const half = stepsMs.length / 2;
  const upper = stepsMs[Math.floor(half)];
  if (upper === undefined) return untilKnownMs;
  if (stepsMs.length % 2 === 1) return upper;
  return ((stepsMs[half - 1] ?? upper) + upper) / 2;
}
