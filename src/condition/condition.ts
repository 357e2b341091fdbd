import type { Unit } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import { channelIndex } from "../terms/channels.ts";
import { second } from "../terms/time.ts";
import { learn } from "./baseline.ts";
import type { ConditionState, FeatureColumns } from "./condition-state.ts";
import { type Baseline, type Features, operating, water } from "./features.ts";
import { heldColumn, holdLast, seeSignals } from "./held-values.ts";
import { intervalMs, learnInterval } from "./interval.ts";
import { centerOf, runningCurrentA } from "./operating.ts";
import { operate, wantedAt } from "./operating-state.ts";
import { smooth, smoothedSignals } from "./smooth.ts";

const current = channelIndex.motor_current;

/** Rules go over this many rows at a time, so that their columns stay in the processor's cache. */
const longestStretch = 1024;

/** The unit and what hangs on it alone. `wanted`: 1 should run, 0 should not, 2 nobody says. */
export interface Conditioned {
  readonly unit: Unit;
  readonly wanted: (timeMs: number) => number;
}

/**
 * Fills the columns for a stretch of rows from `from` on: up to and including the first row that changes what
 * is constant for the rules (the baseline, the sample interval), and before the first that brings a channel
 * not seen before. Returns the row after it.
 */
export function condition(
  state: ConditionState,
  { unit, wanted }: Conditioned,
  batch: ReadingBatch,
  from: number,
  out: FeatureColumns,
): number {
  const { baseline } = state;
  const interval = intervalMs(state.interval);
  const holdMs = holdFor(interval);
  const runningA = runningCurrentA(unit, centerOf(state.baseline, current));
  const to = seeSignals(state, batch, from, Math.min(batch.rows, from + longestStretch));
  for (let s = 0; s < state.seen.length; s++) {
    out.value[s] = heldColumn(state, s, batch, from, to, holdMs, out.own[s]);
  }
  out.states = 0;
  let row = from;
  for (let constant = true; row < to && constant; row++) {
    const t = batch.timeMs[row];
    operate(state, t, row === from ? state.lastTimeMs : batch.timeMs[row - 1], row, runningA, out);
    out.states |= 1 << out.state[row];
    out.wanted[row] = wantedAt(state, t, row, wanted, out);
    learnInterval(state.interval, t);
    constant = !learnBaseline(state, unit, t, row, out) && intervalMs(state.interval) === interval;
  }
  // The row that completes a baseline still belongs to what was known before it.
  const rows = { timeMs: batch.timeMs, state: out.state, from, to: row, intervalMs: interval };
  for (const [k, signal] of smoothedSignals.entries()) {
    const spread = baseline?.signals[signal]?.spread;
    smooth(state.smoothing[k], out.value[signal], spread, rows, out.level[signal], out.unsteady[signal]);
  }
  state.lastTimeMs = batch.timeMs[row - 1];
  holdLast(state, batch, from, row);
  return row;
}

/** How long a value that is not renewed still counts: three sample intervals, at least 30 s (house choice). */
export function holdFor(interval: number): number {
  return Math.max(3 * interval, 30 * second);
}

/** The features of the rows that one `condition` call has filled. */
export function featuresOf(
  { unit }: Conditioned,
  batch: ReadingBatch,
  columns: FeatureColumns,
  before: { baseline: Baseline | null; intervalMs: number },
): Features {
  return {
    unit,
    baseline: before.baseline,
    intervalMs: before.intervalMs,
    timeMs: batch.timeMs,
    state: columns.state,
    states: columns.states,
    sinceStartMs: columns.sinceStartMs,
    sinceStopMs: columns.sinceStopMs,
    settledMs: columns.settledMs,
    water: columns.water,
    wanted: columns.wanted,
    value: columns.value,
    level: columns.level,
    unsteady: columns.unsteady,
  };
}

function learnBaseline(
  state: ConditionState,
  unit: Unit,
  t: number,
  row: number,
  out: FeatureColumns,
): boolean {
  if (state.baseline !== null || state.learning === null) return false;
  const running = state.motor === "running" && out.state[row] !== operating.unknown;
  const baseline = learn(
    state.learning,
    {
      timeMs: t,
      running,
      waterMoving: out.state[row] === operating.running && out.water[row] !== water.still,
      settledForMs: running ? t - (state.startedMs ?? state.runFromMs) : 0,
      value: (signal) => out.value[signal][row],
    },
    unit,
  );
  if (baseline === null) return false;
  state.baseline = baseline;
  state.learning = null;
  return true;
}
