import type { Signal } from "../fleet/signals.ts";
import type { Unit } from "../fleet/unit.ts";
import { channels } from "../terms/channels.ts";
import { type Learning, startLearning } from "./baseline.ts";
import { type Baseline, operating } from "./features.ts";
import type { HeldValues } from "./held-values.ts";
import { type IntervalState, newInterval } from "./interval.ts";
import { type Smoothing, smoothedSignals, startSmoothing } from "./smooth.ts";
import { startTrust, type TrustColumns, type TrustState, trustColumns } from "./trust.ts";

/** Work after which a baseline may no longer hold; plain data. */
export interface Reconsidered {
  readonly work: "repair" | "re-piping";
  readonly atMs: number;
}

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
  /** The one that the rules go by. */
  baseline: Baseline | null;
  /** The first that was complete; a later one never takes its place. */
  firstBaseline: Baseline | null;
  /** The next baseline while it is learned; the present one stays in use until then. */
  learning: Learning | null;
  /** When it was last asked to learn the unit anew; null where it never was. */
  relearnedMs: number | null;
  /** A repair or re-piping within or after the baseline's readings, since which nobody has said whether it still holds. */
  reconsider: Reconsidered | null;
  /** In the order of `smoothedSignals`. */
  smoothing: Smoothing[];
  trust: TrustState;
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
    firstBaseline: null,
    learning: startLearning(n),
    relearnedMs: null,
    reconsider: null,
    smoothing: smoothedSignals.map(startSmoothing),
    trust: startTrust(n),
  };
}

/** Columns that `condition` fills; made once and used again for every batch. */
export interface FeatureColumns {
  readonly capacity: number;
  /** Bit `1 << code` for each operating state of the stretch filled last. */
  states: number;
  /** The longest step between readings of that stretch, from the one before it on, ms; 0 where there is none. */
  longestStepMs: number;
  /** The pump ran with its prime and moved water in every row of that stretch. */
  pumping: boolean;
  readonly state: Uint8Array;
  readonly water: Uint8Array;
  readonly wanted: Uint8Array;
  readonly sinceStartMs: Float64Array;
  readonly sinceStopMs: Float64Array;
  readonly settledMs: Float64Array;
  /** By signal: a column of the batch itself, or one of `own`. */
  readonly value: Float64Array[];
  readonly own: readonly Float64Array[];
  /** NaN in every row. */
  readonly none: Float64Array;
  /** By signal; empty for one that is not smoothed. */
  readonly level: readonly Float64Array[];
  readonly unsteady: readonly Float64Array[];
  readonly trust: TrustColumns;
}

export function featureColumns(capacity: number, signals: number): FeatureColumns {
  const own = Array.from({ length: signals }, () => new Float64Array(capacity));
  return {
    capacity,
    states: 0,
    longestStepMs: 0,
    pumping: false,
    state: new Uint8Array(capacity),
    water: new Uint8Array(capacity),
    wanted: new Uint8Array(capacity),
    sinceStartMs: new Float64Array(capacity),
    sinceStopMs: new Float64Array(capacity),
    settledMs: new Float64Array(capacity),
    value: [...own],
    own,
    none: new Float64Array(capacity).fill(Number.NaN),
    level: smoothedColumns(capacity),
    unsteady: smoothedColumns(capacity),
    trust: trustColumns(capacity, signals),
  };
}

function smoothedColumns(capacity: number): Float64Array[] {
  const columns = Array.from({ length: channels.length }, () => new Float64Array(0));
  for (const signal of smoothedSignals) columns[signal] = new Float64Array(capacity);
  return columns;
}
