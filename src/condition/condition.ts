import type { Unit } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute, second } from "../terms/time.ts";
import type { ConditionState, FeatureColumns } from "./condition-state.ts";
import { stepsMs } from "./extremes.ts";
import { type Baseline, doubt, type Features, operating } from "./features.ts";
import { frozenAt, suspectAfter } from "./freeze.ts";
import { heldColumn, holdLast, seeSignals } from "./held-values.ts";
import { intervalIsFixed, intervalMs, learnInterval } from "./interval.ts";
import { learnBaseline } from "./learn-baseline.ts";
import { centerOf, runningCurrentA } from "./operating.ts";
import { fillWanted, goOnPumping, operate, stoppedFraction } from "./operating-state.ts";
import { physicalRanges } from "./physical-range.ts";
import { learnSteps } from "./repetition.ts";
import { smooth, smoothedSignals } from "./smooth.ts";
import { judgeStretch, type SignalTrust, thaw } from "./trust.ts";

const current = channelIndex.motor_current;

/** Rules go over this many rows at a time, so that their columns stay in the processor's cache. */
const longestStretch = 1024;

/** A lively channel that reads the same for so long while others move is frozen, unless the unit says otherwise. */
export const frozenAfterMs = 30 * minute;

/** The unit and what hangs on it alone. `wanted`: 1 should run, 0 should not, 2 nobody says; it holds for its minute. */
export interface Conditioned {
  readonly unit: Unit;
  readonly wanted: (timeMs: number) => number;
  /** Whether the unit is out of its season. */
  readonly laidUp: (timeMs: number) => boolean;
  /** Default: `frozenAfterMs`. */
  readonly frozenAfterMs?: number;
}

/**
 * Fills the columns for a stretch of rows from `from` on: up to and including the first row that changes what
 * is constant for the rules (the baseline, the sample interval, which channels are frozen), and before the first
 * that brings a channel not seen before or thaws a frozen one. Returns the row after it.
 */
export function condition(
  state: ConditionState,
  { unit, wanted, frozenAfterMs: frozenMs = frozenAfterMs }: Omit<Conditioned, "laidUp">,
  batch: ReadingBatch,
  from: number,
  out: FeatureColumns,
): number {
  const { baseline } = state;
  const interval = intervalMs(state.interval);
  const holdMs = holdFor(interval);
  const runningA = runningCurrentA(unit, centerOf(state.baseline, current));
  const seen = seeSignals(state, batch, from, Math.min(batch.rows, from + longestStretch));
  const to = thaw(state.trust, batch, from, seen);
  const suspectMs = suspectAfter(interval);
  const ranges = physicalRanges(unit);
  const rests = { ranges, baseline, intervalMs: interval, suspectMs, restA: stoppedFraction * runningA };
  let trust = judgeStretch(state.trust, rests, batch, from, to, out.trust);
  const trusted = { rows: batch.rows, timeMs: batch.timeMs, columns: out.trust.trusted };
  for (let s = 0; s < state.seen.length; s++) {
    const complete = !Number.isNaN(out.trust.extremes[s].least);
    out.value[s] = state.seen[s]
      ? heldColumn(state, s, trusted, from, to, complete, holdMs, out.own[s])
      : out.none;
  }
  // How lively a signal is, is known with the baseline.
  const mayFreeze = baseline !== null &&
    out.trust.equalMs.some((column) => column !== undefined) && {
      trust,
      columns: out.trust,
      features: out,
      baseline,
      suspectMs,
      frozenAfterMs: frozenMs,
    };
  fillWanted(state, batch.timeMs, from, to, wanted, out);
  let frozen: readonly number[] = [];
  // Most stretches are plain running, of which nothing is learned: no need to go over their rows one by one.
  const learned = baseline !== null && state.learning === null && intervalIsFixed(state.interval);
  out.pumping = learned && !mayFreeze && goOnPumping(state, batch.timeMs, from, to, runningA, out);
  out.states = out.pumping ? 1 << operating.running : 0;
  let row = out.pumping ? to : from;
  for (let constant = true; row < to && constant; row++) {
    const t = batch.timeMs[row];
    operate(state, t, row === from ? state.lastTimeMs : batch.timeMs[row - 1], row, runningA, out);
    out.states |= 1 << out.state[row];
    learnInterval(state.interval, t);
    if (mayFreeze) frozen = frozenAt(mayFreeze, row);
    const complete = learnBaseline(state, unit, t, row, out);
    constant = !complete && intervalMs(state.interval) === interval && frozen.length === 0;
  }
  if (row < to) trust = judgeStretch(state.trust, rests, batch, from, row, out.trust);
  state.trust = trust;
  for (const s of frozen) freeze(trust.signals[s]);
  if (baseline === null) learnHowTheyMove(state, batch, out, from, row);
  // The row that completes a baseline still belongs to what was known before it.
  const steps = stepsMs(batch.timeMs, from, row, state.lastTimeMs ?? batch.timeMs[from]);
  out.longestStepMs = steps.greatest;
  const even = steps.least === steps.greatest && out.states === 1 << operating.running;
  const evenMs = even ? steps.least : Number.NaN;
  const rows = { timeMs: batch.timeMs, state: out.state, from, to: row, intervalMs: interval, evenMs };
  for (const [k, signal] of smoothedSignals.entries()) {
    const spread = baseline?.signals[signal]?.spread;
    const complete = !Number.isNaN(out.trust.extremes[signal].least);
    const [level, unsteady] = [out.level[signal], out.unsteady[signal]];
    smooth(state.smoothing[k], out.value[signal], spread, rows, complete, level, unsteady);
  }
  state.lastTimeMs = batch.timeMs[row - 1];
  holdLast(state, trusted, from, row);
  return row;
}

function freeze(signal: SignalTrust): void {
  signal.frozen = true;
  signal.doubt = doubt.frozen;
}

function learnHowTheyMove(
  { trust, lastTimeMs }: ConditionState,
  { timeMs }: ReadingBatch,
  out: FeatureColumns,
  from: number,
  to: number,
): void {
  for (const [s, signal] of trust.signals.entries()) {
    const column = out.trust.trusted[s];
    if (column !== undefined) learnSteps(signal, column, timeMs, out, from, to, lastTimeMs);
  }
}

/** How long a value that is not renewed still counts: three sample intervals, at least 30 s (house choice). */
export function holdFor(interval: number): number {
  return Math.max(3 * interval, 30 * second);
}

/** The features of the rows that one `condition` call has filled. */
export function featuresOf(
  { unit, laidUp }: Conditioned,
  batch: ReadingBatch,
  columns: FeatureColumns,
  before: { baseline: Baseline | null; firstBaseline: Baseline | null; intervalMs: number },
): Features {
  return {
    unit,
    laidUp,
    baseline: before.baseline,
    firstBaseline: before.firstBaseline,
    intervalMs: before.intervalMs,
    timeMs: batch.timeMs,
    state: columns.state,
    states: columns.states,
    pumping: columns.pumping,
    longestStepMs: columns.longestStepMs,
    sinceStartMs: columns.sinceStartMs,
    sinceStopMs: columns.sinceStopMs,
    settledMs: columns.settledMs,
    water: columns.water,
    wanted: columns.wanted,
    value: columns.value,
    extremes: columns.trust.extremes,
    level: columns.level,
    unsteady: columns.unsteady,
    doubts: columns.trust.doubts,
    raw: batch.columns,
  };
}
