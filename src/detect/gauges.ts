import { type Features, operating, someState } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import { channelIndex } from "../terms/channels.ts";
import {
  cleanHeadKPa,
  gaugeAt,
  gauged,
  gaugeLost,
  leastVacuumKPa,
  readGauges,
  readRows,
  settleMs,
} from "./gauge-deviations.ts";
import { verdict } from "./rule.ts";

/**
 * The gauges of a running pump held against its clean running. The gauge stands between pump and generator,
 * so what restricts, opens or starves the pump moves vacuum, discharge pressure and current in its own
 * pattern. Source: where the head curve of a centrifugal pump meets the friction of its lines.
 */

const current = channelIndex.motor_current;
const suction = channelIndex.suction_pressure;
const discharge = channelIndex.discharge_pressure;

/** Deviations smaller than this many clean spreads are noise: the level's own is about half a spread. */
const noiseSpreads = 3;
/** Current and head only confirm what a gauge tells: three times the level's own noise is enough. */
const confirmingSpreads = 1.5;
/** The current's spread on a meter of few digits is mostly its last digit: a move by this share is one (house choice). */
const currentMoved = 0.02;
/** Below this part of its limits a deviation counts as gone. */
const goneShare = 0.6;

/** How far the gauges stand from clean: NaN where one is not measured. */
export interface Deviation {
  /** Discharge pressure: share of its clean value, up positive. */
  readonly discharge: number;
  /** Vacuum: share of its clean depth, deeper positive. */
  readonly vacuum: number;
  /** Motor current: share of its clean value, up positive. */
  readonly current: number;
  /** Head, which is discharge less suction pressure: share of its clean value, up positive; NaN without both gauges. */
  readonly head: number;
  /** How many times their clean unsteadiness the gauges waver: the discharge's, the current's, the vacuum's. */
  readonly dischargeWavers: number;
  readonly currentWavers: number;
  readonly vacuumWavers: number;
  /** Shares that noise alone may reach. */
  readonly dischargeNoise: number;
  readonly vacuumNoise: number;
  readonly currentNoise: number;
  readonly headNoise: number;
}

/** Deviations without which a pattern cannot be there even in part, as shares; each where its gauge is measured. */
export interface LeastDeviation {
  readonly discharge?: number;
  readonly vacuum?: number;
}

/**
 * Judges each row of a running pump by its deviation; `ease` is 1 for the limits themselves, and 0.6 to ask
 * whether the pattern is still there in part: then the verdict holds. `least` is asked in part, too.
 */
export function judgeGauges(
  features: Features,
  from: number,
  to: number,
  met: Uint8Array,
  least: LeastDeviation,
  pattern: (deviation: Deviation, ease: number) => boolean,
): void {
  const { baseline, state, settledMs, unsteady } = features;
  if (baseline === null) {
    met.fill(verdict.hold, from, to);
    return;
  }
  if (!someState(features, operating.running, operating.unknown)) {
    met.fill(verdict.no, from, to);
    return;
  }
  readGauges(features, from, to);
  const calm =
    !gauged.someLost &&
    (gauged.greatestDischarge < goneShare * (least.discharge ?? 0) ||
      gauged.greatestVacuum < goneShare * (least.vacuum ?? 0));
  if (calm && gauged.settled) {
    met.fill(verdict.no, from, to);
    return;
  }
  readRows(features, from, to);
  const { discharge: d, vacuum: v, current: a, head: h } = gauged;
  const now = startDeviation(features);
  for (let row = from; row < to; row++) {
    if (state[row] === operating.unknown) met[row] = verdict.hold;
    else if (state[row] !== operating.running) met[row] = verdict.no;
    else if (settledMs[row] < settleMs) met[row] = verdict.hold;
    else if (calm) met[row] = verdict.no;
    else if (gauged.someLost && gaugeLost(features, row)) met[row] = verdict.hold;
    else {
      now.discharge = d[row];
      now.vacuum = v[row];
      now.current = a[row];
      now.head = h[row];
      now.dischargeWavers = unsteady[discharge][row];
      now.currentWavers = unsteady[current][row];
      now.vacuumWavers = unsteady[suction][row];
      if (pattern(now, 1)) met[row] = verdict.met;
      else met[row] = pattern(now, goneShare) ? verdict.hold : verdict.no;
    }
  }
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** A deviation to be filled row by row, with the noise of this unit's gauges. */
function startDeviation(features: Features): Writable<Deviation> {
  const { baseline } = features;
  const spread = (signal: number) => baseline?.signals[signal]?.spread ?? Number.NaN;
  const clean = (signal: number) => centerOf(baseline, signal) ?? Number.NaN;
  return {
    discharge: Number.NaN,
    vacuum: Number.NaN,
    current: Number.NaN,
    head: Number.NaN,
    dischargeWavers: Number.NaN,
    currentWavers: Number.NaN,
    vacuumWavers: Number.NaN,
    dischargeNoise: (noiseSpreads * spread(discharge)) / clean(discharge),
    vacuumNoise: (noiseSpreads * spread(suction)) / Math.max(-clean(suction), leastVacuumKPa),
    currentNoise: Math.min((confirmingSpreads * spread(current)) / clean(current), currentMoved),
    headNoise:
      (confirmingSpreads * Math.sqrt(spread(discharge) ** 2 + spread(suction) ** 2)) / cleanHeadKPa(features),
  };
}

/** A pump whose discharge pressure has fallen by more than this share moves no water to speak of (house choice). */
const flowStopped = 0.85;

/** Whether the pump still moves water: without it there is neither vapour, nor air on its way, nor a slow impeller to see. */
export function waterMoves({ discharge }: Deviation): boolean {
  return !(discharge <= -flowStopped);
}

/** A vacuum deeper by this share without flow is drawn on a shut suction, however the motor is loaded (house choice). */
const shutDeeper = 1;

/** Whether the pump draws on a shut suction: no line that opens is so. */
export function suctionShut(deviation: Deviation): boolean {
  return deviation.vacuum >= shutDeeper && !waterMoves(deviation);
}

/** A pond's level moves both gauges alike and leaves the head: a pattern of the pump moves it by this share (house choice). */
const headMoves = 0.02;

/** Whether the head has fallen by this share at least, as far as both gauges are there to tell. */
export function headFell({ head, headNoise }: Deviation, ease: number, share = headMoves): boolean {
  return !(head > -ease * Math.max(share, headNoise));
}

/** Whether the head has risen, as far as both gauges are there to tell. */
export function headRose({ head, headNoise }: Deviation, ease: number): boolean {
  return !(head < ease * Math.max(headMoves, headNoise));
}

/** Whether it has stopped to move water at one row, as far as the discharge gauge can tell. */
export function waterStopped(features: Features, row: number): boolean {
  const clean = centerOf(features.baseline, discharge) ?? Number.NaN;
  return gaugeAt(features, discharge, row) / clean - 1 <= -flowStopped;
}
