import type { Unit } from "../fleet/unit.ts";
import type { Extremes } from "./extremes.ts";

/** Codes of the operating-state column. */
export const operating = { unknown: 0, stopped: 1, priming: 2, running: 3 } as const;

/** Codes of the water column: whether the pump moves water. */
export const water = { still: 0, moving: 1, unknown: 2 } as const;

/**
 * Why a reading is not trusted: out of its physical range, the same for too long, leaping as nothing can, at odds
 * with two other gauges, or a 4–20 mA loop that signals its failure.
 */
export const doubt = {
  none: 0,
  offScale: 1,
  frozen: 2,
  jumping: 3,
  contradicted: 4,
  loopLow: 5,
  loopHigh: 6,
} as const;

/** Centre and spread of one signal over the unit's clean running. */
export interface BaselineSignal {
  /** Median, in the channel's unit. */
  readonly center: number;
  /** Robust standard deviation (1.4826 MAD with a floor for quantised sensors), same unit. */
  readonly spread: number;
}

/** How signals move together over the unit's clean running, by means over blocks of it. */
export interface Together {
  /** Indices of the signals that `mean` and `covariance` are of. */
  readonly signals: readonly number[];
  /** Robust centre a signal, in its unit. */
  readonly mean: readonly number[];
  /** Robust covariance of the block means, in the signals' units. */
  readonly covariance: readonly (readonly number[])[];
  /** How long a block is, ms. */
  readonly blockMs: number;
}

/** Whether some row of these is in one of the given states. */
export function someState({ states }: Features, ...codes: readonly number[]): boolean {
  return codes.some((code) => (states & (1 << code)) !== 0);
}

export interface Baseline {
  readonly fromMs: number;
  readonly toMs: number;
  readonly readings: number;
  /** The fleet file or a person says that it was clean; says nothing to a rule. */
  readonly confirmed: boolean;
  /** By signal index; null where the signal was not measured. */
  readonly signals: readonly (BaselineSignal | null)[];
  /** Null where too few blocks were seen. */
  readonly together: Together | null;
  /** Longest ozone-off spell while water moved, where the ozone was seen to cycle; else null. */
  readonly ozoneOffSpellMs: number | null;
}

/**
 * What the rules read: columns over the rows of one batch, and what is constant over the rows of one
 * `run` call. The engine starts a new call where a constant changes, so a rule never sees a mixture.
 */
export interface Features {
  readonly unit: Unit;
  /** Null until the first steady running has been seen. */
  readonly baseline: Baseline | null;
  /** The first that was complete, kept for good: what drifts over months is held against it. */
  readonly firstBaseline: Baseline | null;
  /** The unit's sample interval, ms. */
  readonly intervalMs: number;
  /** Whether the unit is out of its season at a time, ms. */
  readonly laidUp: (timeMs: number) => boolean;
  readonly timeMs: Float64Array;
  /** `operating` code. */
  readonly state: Uint8Array;
  /** Which codes stand in `state` over these rows: bit `1 << code`. */
  readonly states: number;
  /** The pump runs with its prime and moves water in every one of these rows; false where that was not asked. */
  readonly pumping: boolean;
  /** The longest step between these readings, from the one before them on, ms. */
  readonly longestStepMs: number;
  /** Time since the motor started, ms, or since it was first seen running; NaN while it is stopped. */
  readonly sinceStartMs: Float64Array;
  /** Time since the motor stopped, ms; NaN while it runs or where the stop was not seen. */
  readonly sinceStopMs: Float64Array;
  /** Time for which the pump has run with its prime, ms; NaN while it does not. */
  readonly settledMs: Float64Array;
  /** `water` code. */
  readonly water: Uint8Array;
  /** 1 where the unit should be running, 0 where it should not, 2 where nobody says. */
  readonly wanted: Uint8Array;
  /** By signal index: the latest valid value not older than it may be, else NaN. */
  readonly value: readonly Float64Array[];
  /** By signal index: bounds of `value` over these rows; NaN where they are not known, or some reading is missing. */
  readonly extremes: readonly Extremes[];
  /** By signal of `smoothedSignals`: its level smoothed over half a minute; NaN while the pump does not run primed. */
  readonly level: readonly Float64Array[];
  /** Likewise: its differences over ten seconds as a multiple of its clean ones, 1 when clean; NaN without a baseline. */
  readonly unsteady: readonly Float64Array[];
  /** By signal: the `doubt` code of each reading; undefined where all of these rows are trusted. */
  readonly doubts: readonly (Uint8Array | undefined)[];
  /** By signal: the readings as they came; undefined where the log has none. */
  readonly raw: readonly (Float64Array | undefined)[];
}
