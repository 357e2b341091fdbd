import { channelIndex } from "../terms/channels.ts";
import { minute, second } from "../terms/time.ts";
import { type Baseline, doubt } from "./features.ts";
import type { PhysicalRange } from "./physical-range.ts";

/** Whether a signal leaps away and back as nothing on a skid can. Plain data. */
export interface LeapState {
  /** Its last reading that was believed, and when it came. */
  anchor: number;
  anchorMs: number;
  /** Readings since then that leapt away while all else was calm, and the last of them. */
  suspects: number;
  suspect: number;
  suspectMs: number;
  /** When it leapt and came back, the newest last. */
  leapsMs: number[];
  /** Not trusted until it has not leapt for a while. */
  jumping: boolean;
  /** The doubt about its newest reading; it stays while no other comes. */
  doubt: number;
}

export function startLeaps(): LeapState {
  return {
    anchor: Number.NaN,
    anchorMs: Number.NaN,
    suspects: 0,
    suspect: Number.NaN,
    suspectMs: Number.NaN,
    leapsMs: [],
    jumping: false,
    doubt: doubt.none,
  };
}

const { motor_current, motor_temperature, suction_pressure, discharge_pressure, gas_pressure } = channelIndex;

/** What counts as a leap of a channel, and who must have been calm meanwhile for it not to be believed. */
interface LeapKind {
  /** Smallest leap in the stored unit, and as a part of the clean value (house choices). */
  readonly least: number;
  readonly share: number;
  /** How far such a channel moves from reading to reading while all is calm, likewise. */
  readonly calm: number;
  readonly calmShare: number;
  /** Channels that follow any real change of this one; a mass of iron or water cannot leap at all and needs none. */
  readonly witnesses: readonly number[];
}

/**
 * A real leap of pressure or current shows in the gauges beside it; a motor of several kilograms, or a pond,
 * cannot warm and cool by 10 K between readings.
 */
const kinds: ReadonlyMap<number, LeapKind> = new Map([
  [
    motor_current,
    { least: 1, share: 0.2, calm: 0, calmShare: 0.01, witnesses: [suction_pressure, discharge_pressure] },
  ],
  [
    suction_pressure,
    { least: 6, share: 0.25, calm: 0.5, calmShare: 0, witnesses: [motor_current, discharge_pressure] },
  ],
  [
    discharge_pressure,
    { least: 8, share: 0.1, calm: 0.5, calmShare: 0.005, witnesses: [motor_current, suction_pressure] },
  ],
  [
    gas_pressure,
    { least: 6, share: 0.06, calm: 0.5, calmShare: 0.005, witnesses: [motor_current, discharge_pressure] },
  ],
  [motor_temperature, { least: 10, share: 0, calm: 0, calmShare: 0, witnesses: [] }],
  [channelIndex.water_temperature, { least: 10, share: 0, calm: 0, calmShare: 0, witnesses: [] }],
]);

/** Smaller steps than this many clean spreads are no leap. */
const leapSpreads = 12;
/** Steps up to this many clean ones, or clean spreads, are calm: one in two hundred of normal noise is larger. */
const calmSteps = 4;

/** A step from reading to reading that counts as a leap; +∞ where the channel may leap. */
export function leapOf(signal: number, baseline: Baseline | null): number {
  const kind = kinds.get(signal);
  if (kind === undefined) return Number.POSITIVE_INFINITY;
  if (kind.witnesses.length === 0) return kind.least;
  const clean = baseline?.signals[signal];
  if (!clean) return 3 * kind.least;
  return Math.max(kind.least, kind.share * Math.abs(clean.center), leapSpreads * clean.spread);
}

function calmStep(signal: number, { baseline, cleanStep }: LeapRows): number {
  const kind = kinds.get(signal);
  const clean = baseline?.signals[signal];
  if (kind === undefined || !clean) return kind?.calm ?? 0;
  const share = kind.calmShare * Math.abs(clean.center);
  return Math.max(kind.calm, share, calmSteps * Math.max(clean.spread, cleanStep(signal)));
}

/** So many readings back its witnesses must have been calm. */
export const calmReadings = 6;

/** So many leaps within so long make it jumping; it is over after so long without one; at least so many intervals. */
const leapsToJump = 4;
const leapsWithinMs = 5 * minute;
const leapsWithinIntervals = 45;
const calmAfterMs = 10 * minute;
const calmAfterIntervals = 30;
/** So many readings in a row out of range are no single spike (house choice). */
const offScaleReadings = 2;
/** A leap comes back within so many readings, else it is where the signal now is. */
const mostSuspects = 4;
/** After a break of so many intervals the last reading says nothing of the next. */
const breakIntervals = 6;

/** What the leaps of one signal are judged by; the rows `from…to` of a batch. */
export interface LeapRows {
  readonly timeMs: Float64Array;
  readonly column: Float64Array;
  readonly from: number;
  readonly to: number;
  readonly range: PhysicalRange;
  readonly baseline: Baseline | null;
  readonly intervalMs: number;
  /** Below this the motor is at rest, A: starts and stops are no leaps. */
  readonly restA: number;
  /** Mean step of a signal from reading to reading while it was clean; 0 where that is not known. */
  cleanStep(signal: number): number;
  /** A reading as it came, up to `calmReadings` before `from` too; NaN where there is none. */
  raw(signal: number, row: number): number;
}

/** Whether everything that would have followed a real leap stood still, as far as it is measured. */
function allElseCalm(signal: number, row: number, rows: LeapRows): boolean {
  const all = kinds.get(signal)?.witnesses ?? [];
  if (all.length === 0) return true;
  let calm = false;
  for (const witness of all) {
    const most = calmStep(witness, rows);
    let steps = 0;
    let before = Number.NaN;
    for (let k = row - calmReadings; k <= row; k++) {
      const x = rows.raw(witness, k);
      if (Number.isNaN(x)) continue;
      if (Math.abs(x - before) > most) return false;
      if (!Number.isNaN(before)) steps++;
      before = x;
    }
    if (steps >= calmReadings / 2) calm = true;
  }
  return calm;
}

/**
 * Judges readings one by one: those out of range or in the middle of a leap come out missing, all while the
 * signal jumps. Writes what is left and the doubt about each.
 */
export function judgeReadings(
  state: LeapState,
  signal: number,
  rows: LeapRows,
  trusted: Float64Array,
  doubts: Uint8Array,
): void {
  const { timeMs, column, from, to, range, baseline, intervalMs, restA } = rows;
  const leap = leapOf(signal, baseline);
  const withinMs = Math.max(leapsWithinMs, leapsWithinIntervals * intervalMs);
  const calmMs = Math.max(calmAfterMs, calmAfterIntervals * intervalMs);
  const breakMs = Math.max(breakIntervals * intervalMs, 30 * second);
  const unwitnessed = kinds.get(signal)?.witnesses.length === 0;
  const leapt = (t: number) => {
    state.suspects = 0;
    state.leapsMs = [...state.leapsMs.filter((at) => t - at <= withinMs), t].slice(-leapsToJump);
    if (state.leapsMs.length === leapsToJump) state.jumping = true;
  };
  for (let row = from; row < to; row++) {
    const x = column[row];
    const t = timeMs[row];
    trusted[row] = Number.NaN;
    doubts[row] = state.doubt;
    // A row that completes one of the same time repeats its values.
    if (Number.isNaN(x) || (t === state.suspectMs && x === state.suspect)) continue;
    if (state.jumping && t - state.leapsMs[state.leapsMs.length - 1] > calmMs) {
      state.jumping = false;
      state.leapsMs = [];
    }
    if (x < range.low || x > range.high) {
      state.suspects = Math.min(state.suspects + 1, mostSuspects);
      if (state.suspects >= offScaleReadings) state.doubt = offScale(x);
      else if (state.jumping) state.doubt = doubt.jumping;
      state.suspect = x;
      state.suspectMs = t;
    } else {
      const away = t - state.anchorMs <= breakMs ? Math.abs(x - state.anchor) : Number.NaN;
      const stays = state.suspects > 0 && Math.abs(x - state.suspect) <= leap / 2;
      const atRest = signal === motor_current && (x < restA || state.anchor < restA);
      let believed = true;
      if (away <= leap && state.suspects > 0) leapt(t);
      else if (away > leap && !stays && !atRest && state.suspects < mostSuspects) {
        believed = !allElseCalm(signal, row, rows);
      }
      if (believed) {
        state.anchor = x;
        state.anchorMs = t;
        state.suspects = 0;
        if (!state.jumping) trusted[row] = x;
      } else {
        state.suspects++;
        state.suspect = x;
        state.suspectMs = t;
        // Where nobody bears witness the first may be a real step: only the next reading tells.
        if (unwitnessed && !state.jumping && !state.leapsMs.some((at) => t - at <= withinMs))
          trusted[row] = x;
      }
      state.doubt = state.jumping ? doubt.jumping : doubt.none;
    }
    doubts[row] = state.doubt;
  }
}

function offScale(x: number): number {
  if (x === Number.POSITIVE_INFINITY) return doubt.loopHigh;
  return x === Number.NEGATIVE_INFINITY ? doubt.loopLow : doubt.offScale;
}
