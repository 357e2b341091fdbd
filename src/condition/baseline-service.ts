import type { ServiceRecord } from "../fleet/unit.ts";
import { startLearning } from "./baseline.ts";
import type { ConditionState } from "./condition-state.ts";

/**
 * What a service record means for the baseline. `confirm` labels the present one, and ends a learning anew that is not
 * complete; `relearn` learns the next one, while the present one stays in use: a unit is better held against an old
 * baseline than against none. A repair or re-piping that is over leaves the question open, one that was taken back does not. An inspection or a cleaning
 * asks nothing: what they bring back is held against the baseline that was.
 */
export function serveBaseline(state: ConditionState, { work, step, atMs }: ServiceRecord): void {
  const { baseline } = state;
  if (work === "baseline" && step === "confirm" && baseline !== null) {
    state.baseline = { ...baseline, confirmed: true };
    state.learning = null;
    state.reconsider = null;
  } else if (work === "baseline" && step === "relearn") {
    state.learning = startLearning(state.held.length);
    state.relearnedMs = atMs;
    state.reconsider = null;
  } else if ((work === "repair" || work === "re-piping") && step !== "begin" && step !== "taken-back") {
    if (baseline === null || atMs >= baseline.fromMs) state.reconsider = { work, atMs };
  }
}
