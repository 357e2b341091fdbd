import type { Signal } from "../fleet/signals.ts";
import type { Unit } from "../fleet/unit.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import { channelIndex } from "../terms/channels.ts";
import { minute, second } from "../terms/time.ts";
import { type Learning, learn, startLearning } from "./baseline.ts";
import { type Baseline, type Features, operating, water } from "./features.ts";
import { type HeldValues, heldColumn, holdLast, seeSignals } from "./held-values.ts";
import { type IntervalState, intervalMs, learnInterval, newInterval } from "./interval.ts";
import {
  centerOf,
  loadedFraction,
  primeEstablishedFraction,
  primingAllowedMs,
  runningCurrentA,
  waterPressureKPa,
  waterStillFraction,
} from "./operating.ts";

const current = channelIndex.motor_current;
const discharge = channelIndex.discharge_pressure;
const power = channelIndex.power;
const runCommand = channelIndex.run_command;

/** The motor counts as stopped below this part of its running current. */
const stoppedFraction = 0.7;
/** Power above which a motor without a current channel runs, W (house choice). */
const runningPowerW = 50;

/** Rules go over this many rows at a time, so that their columns stay in the processor's cache. */
const longestStretch = 1024;

/** What conditioning remembers of a unit; plain data. NaN and null stand for "not known". */
export interface ConditionState extends HeldValues {
  interval: IntervalState;
  lastTimeMs: number | null;
  motor: "unknown" | "stopped" | "running";
  /** When the motor was seen to start or stop; null where the change was not seen. */
  startedMs: number | null;
  stoppedMs: number | null;
  /** Since when the present operating state holds. */
  stateSinceMs: number;
  state: number;
  /** First reading of the present run, seen start or not. */
  runFromMs: number;
  primed: boolean;
  /** Readings in a row with pressure established; two establish prime. */
  pressureReadings: number;
  baseline: Baseline | null;
  learning: Learning | null;
}

export function startCondition(unit: Unit, signals: readonly Signal[]): ConditionState {
  const n = signals.length;
  return {
    interval: newInterval(unit.sampleIntervalMs),
    lastTimeMs: null,
    held: new Array(n).fill(Number.NaN),
    heldAtMs: new Array(n).fill(Number.NaN),
    seen: new Array(n).fill(false),
    motor: "unknown",
    startedMs: null,
    stoppedMs: null,
    stateSinceMs: Number.NaN,
    state: operating.unknown,
    runFromMs: Number.NaN,
    primed: false,
    pressureReadings: 0,
    baseline: null,
    learning: startLearning(n),
  };
}

/** Columns that `condition` fills; made once and used again for every batch. */
export interface FeatureColumns {
  readonly capacity: number;
  /** Bit `1 << code` for each operating state of the stretch filled last. */
  states: number;
  readonly state: Uint8Array;
  readonly water: Uint8Array;
  readonly wanted: Uint8Array;
  readonly sinceStartMs: Float64Array;
  readonly sinceStopMs: Float64Array;
  /** By signal: a column of the batch itself, or one of `own`. */
  readonly value: Float64Array[];
  readonly own: readonly Float64Array[];
}

export function featureColumns(capacity: number, signals: number): FeatureColumns {
  const own = Array.from({ length: signals }, () => new Float64Array(capacity));
  return {
    capacity,
    states: 0,
    state: new Uint8Array(capacity),
    water: new Uint8Array(capacity),
    wanted: new Uint8Array(capacity),
    sinceStartMs: new Float64Array(capacity),
    sinceStopMs: new Float64Array(capacity),
    value: [...own],
    own,
  };
}

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
    water: columns.water,
    wanted: columns.wanted,
    value: columns.value,
  };
}

function operate(
  state: ConditionState,
  t: number,
  beforeMs: number | null,
  row: number,
  runningA: number,
  out: FeatureColumns,
): void {
  const on = motorOn(state, row, runningA, out);
  if (on === true && state.motor !== "running") {
    state.startedMs = state.motor === "stopped" ? t : null;
    state.stoppedMs = null;
    state.runFromMs = t;
    state.primed = false;
    state.pressureReadings = 0;
    state.motor = "running";
  } else if (on === false && state.motor !== "stopped") {
    state.stoppedMs = state.motor === "running" ? t : null;
    state.startedMs = null;
    state.motor = "stopped";
  }
  let code: number = operating.unknown;
  let moving: number = water.unknown;
  if (on === undefined) {
    // Without the motor's current nobody can say; the last known motor state waits.
  } else if (state.motor === "stopped") {
    code = operating.stopped;
    moving = water.still;
  } else {
    const p = out.value[discharge][row];
    const center = centerOf(state.baseline, discharge);
    prime(state, t, beforeMs, row, p, center, out);
    code = state.primed ? operating.running : operating.priming;
    if (!Number.isNaN(p)) {
      const still = center === undefined ? waterPressureKPa : waterStillFraction * center;
      if (state.primed && p >= still) moving = water.moving;
      else if (!state.primed || !isLoaded(state, row, out)) moving = water.still;
    } else if (!state.primed) {
      moving = water.still;
    }
  }
  if (code !== state.state) {
    state.state = code;
    state.stateSinceMs = t;
  }
  out.state[row] = code;
  out.water[row] = moving;
  out.sinceStartMs[row] = state.motor === "running" ? t - state.runFromMs : Number.NaN;
  out.sinceStopMs[row] = state.stoppedMs === null ? Number.NaN : t - state.stoppedMs;
}

/**
 * True and false by current, else power, else the command, whichever the log has; where it has none of them,
 * it runs while there is discharge pressure. Undefined while that is not known.
 */
function motorOn(
  state: ConditionState,
  row: number,
  runningA: number,
  out: FeatureColumns,
): boolean | undefined {
  const a = out.value[current][row];
  if (!Number.isNaN(a)) return a >= (state.motor === "running" ? stoppedFraction * runningA : runningA);
  const w = out.value[power][row];
  if (!Number.isNaN(w))
    return w >= (state.motor === "running" ? stoppedFraction * runningPowerW : runningPowerW);
  if (state.seen[current] || state.seen[power]) return undefined;
  const command = out.value[runCommand][row];
  if (!Number.isNaN(command)) return command === 1;
  const p = out.value[discharge][row];
  if (state.seen[runCommand] || Number.isNaN(p)) return undefined;
  const moving =
    waterStillFraction * (centerOf(state.baseline, discharge) ?? waterPressureKPa / waterStillFraction);
  return p >= moving ? true : undefined;
}

/** Whether the motor works as hard as it did when clean: then it moves water, whatever the gauge says. */
function isLoaded(state: ConditionState, row: number, out: FeatureColumns): boolean {
  const clean = centerOf(state.baseline, current);
  return clean !== undefined && out.value[current][row] >= loadedFraction * clean;
}

/**
 * Prime is established by two readings in a row of discharge pressure at half its baseline (10 kPa where
 * no baseline is known), or of a motor loaded as when clean a minute after its start, whatever the gauge says; where pressure is not measured, by the allowed priming time having passed.
 */
function prime(
  state: ConditionState,
  t: number,
  beforeMs: number | null,
  row: number,
  p: number,
  center: number | undefined,
  out: FeatureColumns,
): void {
  if (state.primed) return;
  if (!Number.isNaN(p)) {
    const pressure = p >= (center === undefined ? waterPressureKPa : primeEstablishedFraction * center);
    const enough = pressure || (t - state.runFromMs >= minute && isLoaded(state, row, out));
    // A row that completes one of the same time is no other reading.
    if (!enough) state.pressureReadings = 0;
    else if (t !== beforeMs) state.pressureReadings++;
    state.primed = state.pressureReadings >= 2;
  } else if (!state.seen[discharge]) {
    const a = out.value[current][row];
    const loaded = centerOf(state.baseline, current);
    state.primed =
      (loaded !== undefined && a >= loadedFraction * loaded) || t - state.runFromMs >= primingAllowedMs;
  }
}

function wantedAt(
  state: ConditionState,
  t: number,
  row: number,
  wanted: (timeMs: number) => number,
  out: FeatureColumns,
): number {
  if (!state.seen[runCommand]) return wanted(t);
  const command = out.value[runCommand][row];
  return !Number.isNaN(command) ? command : 2;
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
