import { channelIndex } from "../terms/channels.ts";
import { second } from "../terms/time.ts";
import { operating } from "./features.ts";

/** The signals of a running pump whose level and unsteadiness rules read. */
export const smoothedSignals: readonly number[] = [
  channelIndex.motor_current,
  channelIndex.suction_pressure,
  channelIndex.discharge_pressure,
  channelIndex.gas_pressure,
];

/** Time constants: a level follows within half a minute, unsteadiness is judged over a minute (house choices); at least so many intervals. */
const levelOverMs = 20 * second;
const unsteadyOverMs = 60 * second;
const levelIntervals = 2;
const unsteadyIntervals = 4;
/** Unsteadiness is that from one such moment to the next, so that it does not hang on how often a logger reads. */
const beatMs = 10 * second;
/** One step of a signal counts for no more spreads than this, so that a single leap is not unsteadiness. */
const mostSpreads = 6;
/** Mean absolute difference of successive independent normal readings, in standard deviations: 2/√π. */
const meanDifference = 1.1283791670955126;
/** After a break of so many intervals both start anew. */
const breakIntervals = 10;

/** Where the smoothing of one signal stands; plain data. */
export interface Smoothing {
  level: number;
  /** Share of the weights that real values hold, 0 to 1. */
  weight: number;
  unsteady: number;
  atMs: number;
  /** The value that the next beat is held against, and when it was. */
  beat: number;
  beatMs: number;
}

export function startSmoothing(): Smoothing {
  return {
    level: Number.NaN,
    weight: 0,
    unsteady: 1,
    atMs: Number.NaN,
    beat: Number.NaN,
    beatMs: Number.NaN,
  };
}

/** The rows that are smoothed: their times, and where the pump runs with its prime. */
export interface SmoothedRows {
  readonly timeMs: Float64Array;
  readonly state: Uint8Array;
  readonly from: number;
  readonly to: number;
  readonly intervalMs: number;
  /** The step from each reading to the next, from the one before `from` on, where the pump runs in all rows and all steps are alike; else NaN. */
  readonly evenMs: number;
}

/**
 * Writes for each row the smoothed level of a signal, and how unsteady it is: its differences from one beat of
 * ten seconds to the next as a multiple of what its clean `spread` makes, 1 when clean. NaN while the pump does not run; a missing value
 * leaves both as they are; `complete`: none is. Irregular steps are weighed by 1 − exp(−Δt/τ).
 */
export function smooth(
  state: Smoothing,
  value: Float64Array,
  spread: number | undefined,
  rows: SmoothedRows,
  complete: boolean,
  level: Float64Array,
  unsteady: Float64Array,
): void {
  const { timeMs, state: codes, from, to, intervalMs, evenMs } = rows;
  const levelTau = Math.max(levelOverMs, levelIntervals * intervalMs);
  const unsteadyTau = Math.max(unsteadyOverMs, unsteadyIntervals * intervalMs);
  // A reading that comes a little early still counts as the next beat.
  const everyMs = Math.max(beatMs, intervalMs) - intervalMs / 2;
  const breakMs = breakIntervals * intervalMs;
  const perSpread = spread === undefined ? Number.NaN : 1 / (spread * meanDifference);
  const settled = state.atMs === timeMs[from] - evenMs && state.beatMs === state.atMs;
  if (complete && settled && evenMs >= everyMs && evenMs <= breakMs && Number.isFinite(perSpread)) {
    const share = -Math.expm1(-evenMs / levelTau);
    if (state.weight + share * (1 - state.weight) === state.weight) {
      const unsteadyShare = Math.expm1(-evenMs / unsteadyTau);
      smoothEvenly(state, value, share / state.weight, unsteadyShare, perSpread, from, to, level, unsteady);
      state.atMs = timeMs[to - 1];
      state.beatMs = state.atMs;
      return;
    }
  }
  // Readings mostly come evenly: what hangs on the step alone is worked out where that changes.
  let stepMs = Number.NaN;
  let levelShare = 0;
  let gain = 0;
  let sinceMs = Number.NaN;
  let unsteadyShare = 0;
  let { level: mean, weight, unsteady: wavers, atMs, beat, beatMs: beatAtMs } = state;
  for (let row = from; row < to; row++) {
    const t = timeMs[row];
    const x = value[row];
    if (codes[row] !== operating.running || t - atMs > breakMs) {
      weight = 0;
      wavers = 1;
      atMs = Number.NaN;
      beatAtMs = Number.NaN;
      if (codes[row] !== operating.running) {
        level[row] = Number.NaN;
        unsteady[row] = Number.NaN;
        continue;
      }
    }
    if (!Number.isNaN(x)) {
      const dtMs = Number.isNaN(atMs) ? intervalMs : t - atMs;
      if (dtMs !== stepMs) {
        stepMs = dtMs;
        levelShare = -Math.expm1(-dtMs / levelTau);
        gain = levelShare / weight;
      }
      if (weight === 0) {
        mean = x;
        weight = levelShare;
        gain = 1;
      } else {
        const grown = weight + levelShare * (1 - weight);
        // After some minutes the weight grows no more.
        if (grown !== weight) {
          weight = grown;
          gain = levelShare / weight;
        }
        mean += gain * (x - mean);
      }
      atMs = t;
      const sinceBeatMs = t - beatAtMs;
      if (!(sinceBeatMs < everyMs)) {
        const steps = Math.min(Math.abs(x - beat) * perSpread, mostSpreads);
        // Not at the first beat, nor without a baseline.
        if (sinceBeatMs >= everyMs && steps >= 0) {
          if (sinceBeatMs !== sinceMs) {
            sinceMs = sinceBeatMs;
            unsteadyShare = Math.expm1(-sinceBeatMs / unsteadyTau);
          }
          wavers -= unsteadyShare * (steps - wavers);
        }
        beat = x;
        beatAtMs = t;
      }
    }
    level[row] = weight === 0 ? Number.NaN : mean;
    unsteady[row] = wavers;
  }
  state.level = mean;
  state.weight = weight;
  state.unsteady = wavers;
  state.atMs = atMs;
  state.beat = beat;
  state.beatMs = beatAtMs;
}

/**
 * The same where every reading comes one even step after the last, each is a beat, and the weight grows no more: so
 * all shares stay as they are, and what is left of the loop fits the processor's registers.
 */
function smoothEvenly(
  state: Smoothing,
  value: Float64Array,
  gain: number,
  unsteadyShare: number,
  perSpread: number,
  from: number,
  to: number,
  level: Float64Array,
  unsteady: Float64Array,
): void {
  let { level: mean, unsteady: wavers, beat } = state;
  for (let row = from; row < to; row++) {
    const x = value[row];
    mean += gain * (x - mean);
    const steps = Math.min(Math.abs(x - beat) * perSpread, mostSpreads);
    wavers -= unsteadyShare * (steps - wavers);
    beat = x;
    level[row] = mean;
    unsteady[row] = wavers;
  }
  state.level = mean;
  state.unsteady = wavers;
  state.beat = beat;
}
