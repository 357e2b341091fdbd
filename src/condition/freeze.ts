import { channelIndex } from "../terms/channels.ts";
import { second } from "../terms/time.ts";
import type { FeatureColumns } from "./condition-state.ts";
import { leastVacuumKPa, restShare, runningShare } from "./contradict.ts";
import { type Baseline, operating } from "./features.ts";
import { centerOf, loadedFraction } from "./operating.ts";
import { isLively } from "./repetition.ts";
import type { TrustColumns, TrustState } from "./trust.ts";

const { motor_current, suction_pressure, discharge_pressure, gas_pressure, ozone } = channelIndex;

/** A lively signal that reads the same for so long, and so many intervals, is suspected (house choice). */
const suspectAfterMs = 60 * second;
const suspectAfterIntervals = 10;

export function suspectAfter(intervalMs: number): number {
  return Math.max(suspectAfterMs, suspectAfterIntervals * intervalMs);
}

/** What it is judged by whether a signal is frozen at a row. */
export interface FreezeRests {
  readonly trust: TrustState;
  readonly columns: TrustColumns;
  readonly features: Pick<FeatureColumns, "state" | "settledMs" | "value">;
  readonly baseline: Baseline | null;
  readonly suspectMs: number;
  /** The setting: the same for so long while others move. */
  readonly frozenAfterMs: number;
}

/**
 * The signals that turn out frozen at `row`: lively ones that read exactly the same while the pump ran for
 * `frozenAfterMs` and others moved; or that did so for a while and that two other gauges contradict.
 */
export function frozenAt(rests: FreezeRests, row: number): number[] {
  const { trust, columns, features, suspectMs, frozenAfterMs } = rests;
  const found: number[] = [];
  for (let s = 0; s < columns.equalMs.length; s++) {
    const same = columns.equalMs[s];
    if (same === undefined || !(same[row] >= suspectMs) || trust.signals[s].frozen) continue;
    const x = columns.trusted[s]?.[row] ?? Number.NaN;
    if (Number.isNaN(x) || !isLively(trust.signals[s])) continue;
    // A gauge that stands at nought may be right: gas that has failed, a pump that has lost its prime.
    const forLong = same[row] >= frozenAfterMs && features.settledMs[row] >= frozenAfterMs && x !== 0;
    if ((forLong && othersMove(rests, s, row)) || contradicted(rests, s, row)) found.push(s);
  }
  return found;
}

/** Gauges of the same water and its pump: where one of them moves, none stands still. */
const together: readonly number[] = [motor_current, suction_pressure, discharge_pressure, gas_pressure];

/** Whether another moves, of the gauges that go together where there is one that could. */
function othersMove({ trust, columns, suspectMs }: FreezeRests, signal: number, row: number): boolean {
  const others = trust.signals.flatMap((other, s) =>
    s !== signal && isLively(other) && columns.trusted[s] !== undefined ? [s] : [],
  );
  const near = together.includes(signal) ? others.filter((s) => together.includes(s)) : [];
  return (near.length > 0 ? near : others).some((s) => !((columns.equalMs[s]?.[row] ?? 0) >= suspectMs));
}

/** Whether two other gauges agree on something that this one's reading does not allow. */
function contradicted({ features, baseline }: FreezeRests, signal: number, row: number): boolean {
  const { value, state } = features;
  const code = state[row];
  if (code !== operating.running && code !== operating.priming) return false;
  /** What a gauge reads as a part of its clean value; NaN where that is not known or too small to tell. */
  const share = (s: number, least: number): number => {
    const clean = centerOf(baseline, s) ?? Number.NaN;
    return Math.abs(clean) >= least ? value[s][row] / clean : Number.NaN;
  };
  const load = share(motor_current, 0);
  const pressure = share(discharge_pressure, leastVacuumKPa);
  const vacuum = share(suction_pressure, leastVacuumKPa);
  const loaded = load >= loadedFraction && load <= 2 - loadedFraction;
  switch (signal) {
    case motor_current: {
      // A loaded motor moves water or pulls a vacuum.
      const second =
        vacuum <= restShare || share(gas_pressure, leastVacuumKPa) <= restShare || value[ozone][row] === 0;
      return loaded && pressure <= restShare && second;
    }
    case discharge_pressure:
      return pressure <= restShare && loaded && Math.abs(vacuum - 1) < 1 - runningShare;
    case suction_pressure:
      return vacuum <= restShare && loaded && Math.abs(pressure - 1) < 1 - runningShare;
    default:
      return false;
  }
}
