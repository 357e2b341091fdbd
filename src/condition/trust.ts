import type { ReadingBatch } from "../terms/batch.ts";
import { channelIndex } from "../terms/channels.ts";
import { contradictCurrent } from "./contradict.ts";
import { type Extremes, extremesOf, unknownExtremes } from "./extremes.ts";
import { type Baseline, doubt } from "./features.ts";
import { calmReadings, judgeReadings, type LeapState, leapOf, startLeaps } from "./leaps.ts";
import type { PhysicalRange } from "./physical-range.ts";
import { equalFor, followReadings, meanStep, type Repetition, startRepetition } from "./repetition.ts";

const { motor_current, suction_pressure, discharge_pressure } = channelIndex;

/** What is remembered of one signal to tell whether it can be trusted. Plain data. */
export interface SignalTrust extends LeapState, Repetition {}

export interface TrustState {
  signals: SignalTrust[];
  /** The last readings of each of `gauges` as they came, oldest first; NaN where one is missing. */
  tails: number[][];
}

/** Gauges that bear witness for each other. */
const gauges: readonly number[] = [motor_current, suction_pressure, discharge_pressure];

export function startTrust(signals: number): TrustState {
  return {
    signals: Array.from({ length: signals }, () => ({ ...startLeaps(), ...startRepetition() })),
    tails: gauges.map(() => new Array(calmReadings).fill(Number.NaN)),
  };
}

/** Columns that the judging of a stretch fills, by signal; made once and used again. */
export interface TrustColumns {
  /** The readings to go by, missing where they are not trusted; undefined where the log has none. */
  readonly trusted: (Float64Array | undefined)[];
  /** The `doubt` about each reading; undefined where there is none in these rows. */
  readonly doubts: (Uint8Array | undefined)[];
  /** Bounds of the readings to go by: every one of these rows has one. Unknown where some are missing or not trusted. */
  readonly extremes: Extremes[];
  /** For how long the reading has been the same, ms; undefined where that is never long. */
  readonly equalMs: (Float64Array | undefined)[];
  readonly own: readonly {
    readonly trusted: Float64Array;
    readonly doubts: Uint8Array;
    readonly equalMs: Float64Array;
  }[];
}

export function trustColumns(capacity: number, signals: number): TrustColumns {
  const none = () => new Array(signals).fill(undefined);
  return {
    trusted: none(),
    doubts: none(),
    extremes: new Array(signals).fill(unknownExtremes),
    equalMs: none(),
    own: Array.from({ length: signals }, () => ({
      trusted: new Float64Array(capacity),
      doubts: new Uint8Array(capacity),
      equalMs: new Float64Array(capacity),
    })),
  };
}

/** What the judging of readings rests on, constant over a stretch. */
export interface TrustRests {
  /** By signal; undefined for a status. */
  readonly ranges: readonly (PhysicalRange | undefined)[];
  readonly baseline: Baseline | null;
  readonly intervalMs: number;
  /** Equal readings for so long may speak of a frozen instrument, ms. */
  readonly suspectMs: number;
  /** Below this the motor is at rest, A. */
  readonly restA: number;
}

/**
 * Ends a stretch before the first row that thaws a frozen signal, and thaws those that change at `from`: over a
 * stretch it is constant which signals are frozen.
 */
export function thaw({ signals }: TrustState, { columns }: ReadingBatch, from: number, to: number): number {
  let end = to;
  for (let s = 0; s < signals.length; s++) {
    const signal = signals[s];
    const column = signal.frozen ? columns[s] : undefined;
    if (column === undefined) continue;
    let row = from;
    while (row < end && (column[row] === signal.last || Number.isNaN(column[row]))) row++;
    if (row === from) {
      signal.frozen = false;
      signal.doubt = doubt.none;
    } else end = row;
  }
  return end;
}

/** Judges the readings of rows `from…to` and returns the state after them; `state` stays as it is. */
export function judgeStretch(
  state: TrustState,
  rests: TrustRests,
  batch: ReadingBatch,
  from: number,
  to: number,
  out: TrustColumns,
): TrustState {
  const { timeMs, columns } = batch;
  const raw = (signal: number, row: number): number => {
    if (row >= from) return columns[signal]?.[row] ?? Number.NaN;
    return state.tails[gauges.indexOf(signal)][calmReadings + row - from];
  };
  // How a signal moves is still being learned before the baseline is known, a stretch at a time.
  const cleanStep = (signal: number): number =>
    rests.baseline === null ? 0 : meanStep(state.signals[signal]);
  const signals = state.signals.map((before, s): SignalTrust => {
    const column = columns[s];
    const range = rests.ranges[s];
    out.trusted[s] = column;
    out.doubts[s] = undefined;
    out.equalMs[s] = undefined;
    out.extremes[s] = unknownExtremes;
    if (range === undefined) {
      if (column !== undefined) out.extremes[s] = extremesOf(column, from, to);
      return before;
    }
    if (column === undefined) {
      if (before.doubt !== doubt.none) out.doubts[s] = out.own[s].doubts.fill(before.doubt, from, to);
      return before;
    }
    const signal = { ...before };
    const leap = leapOf(s, rests.baseline);
    const found = followReadings(signal, timeMs, column, range, leap, rests.suspectMs, from, to);
    if (found.equal) out.equalMs[s] = equalFor(before, timeMs, column, from, to, out.own[s].equalMs);
    if (signal.frozen) {
      out.trusted[s] = out.own[s].trusted.fill(Number.NaN, from, to);
      out.doubts[s] = out.own[s].doubts.fill(doubt.frozen, from, to);
    } else if (found.odd || signal.doubt !== doubt.none || signal.suspects > 0) {
      const { trusted, doubts } = out.own[s];
      judgeReadings(
        signal,
        s,
        { ...rests, timeMs, column, from, to, range, raw, cleanStep },
        trusted,
        doubts,
      );
      out.trusted[s] = trusted;
      out.doubts[s] = doubts;
    } else {
      anchorAtLast(signal, timeMs, column, from, to);
      out.extremes[s] = found;
    }
    return signal;
  });
  contradictCurrent(rests, from, to, out);
  return { signals, tails: gauges.map((s, g) => tailAfter(state.tails[g], columns[s], from, to)) };
}

function anchorAtLast(
  signal: SignalTrust,
  timeMs: Float64Array,
  column: Float64Array,
  from: number,
  to: number,
): void {
  let row = to - 1;
  while (row >= from && Number.isNaN(column[row])) row--;
  if (row < from) return;
  signal.anchor = column[row];
  signal.anchorMs = timeMs[row];
}

function tailAfter(tail: readonly number[], column: Float64Array | undefined, from: number, to: number) {
  const after = tail.slice(Math.min(to - from, calmReadings));
  for (let row = Math.max(from, to - calmReadings); row < to; row++) after.push(column?.[row] ?? Number.NaN);
  return after;
}
