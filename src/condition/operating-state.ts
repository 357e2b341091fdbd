import { channelIndex } from "../terms/channels.ts";
import { minute } from "../terms/time.ts";
import type { ConditionState, FeatureColumns } from "./condition-state.ts";
import { operating, water } from "./features.ts";
import {
  centerOf,
  loadedFraction,
  primeEstablishedFraction,
  primingAllowedMs,
  waterPressureKPa,
  waterStillFraction,
} from "./operating.ts";

const current = channelIndex.motor_current;
const discharge = channelIndex.discharge_pressure;
const power = channelIndex.power;
const runCommand = channelIndex.run_command;

/** The motor counts as stopped below this part of its running current. */
export const stoppedFraction = 0.7;
/** Power above which a motor without a current channel runs, W (house choice). */
export const runningPowerW = 50;

/** Tells the operating state of one reading and writes its columns; `beforeMs` is the time of the reading before. */
export function operate(
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
    } else if (!state.primed && !state.seen[discharge]) {
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
  out.settledMs[row] = code === operating.running ? t - state.stateSinceMs : Number.NaN;
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
 * no baseline is known), or of a motor loaded as when clean a minute after its start, whatever the gauge says
 * or where it says nothing just now; where pressure is not measured, by the allowed priming time having passed.
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
  if (state.seen[discharge]) {
    const pressure = p >= (center === undefined ? waterPressureKPa : primeEstablishedFraction * center);
    const enough = pressure || (t - state.runFromMs >= minute && isLoaded(state, row, out));
    // A row that completes one of the same time is no other reading.
    if (!enough) state.pressureReadings = 0;
    else if (t !== beforeMs) state.pressureReadings++;
    state.primed = state.pressureReadings >= 2;
  } else {
    const a = out.value[current][row];
    const loaded = centerOf(state.baseline, current);
    state.primed =
      (loaded !== undefined && a >= loadedFraction * loaded) || t - state.runFromMs >= primingAllowedMs;
  }
}

/**
 * Fills the columns of rows `from…to` at once where the pump goes on moving water through all of them, as it mostly
 * does; answers whether it does so. Such rows change nothing in the state.
 */
export function goOnPumping(
  state: ConditionState,
  timeMs: Float64Array,
  from: number,
  to: number,
  runningA: number,
  out: FeatureColumns,
): boolean {
  const { extremes } = out.trust;
  const center = centerOf(state.baseline, discharge);
  const still = center === undefined ? waterPressureKPa : waterStillFraction * center;
  if (state.state !== operating.running) return false;
  if (!(extremes[current].least >= stoppedFraction * runningA && extremes[discharge].least >= still))
    return false;
  out.state.fill(operating.running, from, to);
  out.water.fill(water.moving, from, to);
  out.sinceStopMs.fill(Number.NaN, from, to);
  const { runFromMs, stateSinceMs } = state;
  const { sinceStartMs, settledMs } = out;
  for (let row = from; row < to; row++) {
    const t = timeMs[row];
    sinceStartMs[row] = t - runFromMs;
    settledMs[row] = t - stateSinceMs;
  }
  return true;
}

/** Writes whether the unit should run at each of rows `from…to`: by its command where the log has one, else by its schedule. */
export function fillWanted(
  { seen }: ConditionState,
  timeMs: Float64Array,
  from: number,
  to: number,
  wanted: (timeMs: number) => number,
  out: FeatureColumns,
): void {
  if (seen[runCommand]) {
    const command = out.value[runCommand];
    for (let row = from; row < to; row++) out.wanted[row] = Number.isNaN(command[row]) ? 2 : command[row];
    return;
  }
  let answer = 0;
  let untilMs = Number.NEGATIVE_INFINITY;
  for (let row = from; row < to; row++) {
    const t = timeMs[row];
    if (t >= untilMs) {
      answer = wanted(t);
      untilMs = (Math.floor(t / minute) + 1) * minute;
    }
    out.wanted[row] = answer;
  }
}
