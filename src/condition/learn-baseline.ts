import type { Unit } from "../fleet/unit.ts";
import { channelIndex } from "../terms/channels.ts";
import { learn } from "./baseline.ts";
import type { ConditionState, FeatureColumns } from "./condition-state.ts";
import { operating, water } from "./features.ts";
import { waterPressureKPa } from "./operating.ts";

const discharge = channelIndex.discharge_pressure;

/** Learns of one reading of time `t`, ms; answers whether it completed a baseline, which then is the unit's. */
export function learnBaseline(
  state: ConditionState,
  unit: Unit,
  t: number,
  row: number,
  out: FeatureColumns,
): boolean {
  if (state.learning === null) return false;
  const running = state.motor === "running" && out.state[row] !== operating.unknown;
  const pumping = out.state[row] === operating.running && out.water[row] !== water.still;
  // A unit that is learned anew may run otherwise than its present baseline has it.
  const anew = state.baseline !== null && running && out.value[discharge][row] >= waterPressureKPa;
  const baseline = learn(
    state.learning,
    {
      timeMs: t,
      running,
      waterMoving: pumping || anew,
      settledForMs: running ? t - (state.startedMs ?? state.runFromMs) : 0,
      value: (signal) => out.value[signal][row],
    },
    windowToLearn(unit, state.relearnedMs),
  );
  if (baseline === null) return false;
  state.baseline = baseline;
  state.firstBaseline ??= baseline;
  if (state.reconsider !== null && state.reconsider.atMs <= baseline.fromMs) state.reconsider = null;
  state.learning = null;
  return true;
}

/** The window that the fleet file names; one that begins before the unit is to be learned anew counts no more. */
export function windowToLearn({ baseline }: Unit, relearnedMs: number | null): Unit["baseline"] {
  return relearnedMs !== null && baseline !== undefined && baseline.fromMs < relearnedMs
    ? undefined
    : baseline;
}
