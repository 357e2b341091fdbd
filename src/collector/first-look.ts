import { condition } from "../condition/condition.ts";
import { featureColumns } from "../condition/condition-state.ts";
import { startUnit, type UnitState } from "../engine.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import type { LogView, UnitView } from "./fleet-view.ts";
import { type EndOf, newestLog, readLogEnd } from "./log-end.ts";
import { viewUnit } from "./view.ts";

/** What the end of a unit's log shows before the log has been read: readings and state, nothing judged. */
export interface FirstLook {
  readonly of: EndOf;
  readonly state: UnitState;
}

/**
 * Looks at the end of the log that a unit's logger wrote last. `before` comes back where the log has not
 * changed since; undefined where there is no end to be read (no log, only compressed ones, no header). Never
 * throws: the log will be read whole, and what is wrong with it told then.
 */
export async function lookAtEnd(
  unit: Unit,
  fleet: Fleet,
  paths: readonly string[],
  latestMs: number,
  before: FirstLook | undefined,
): Promise<FirstLook | undefined> {
  try {
    const of = await newestLog(paths);
    if (of === undefined) return undefined;
    const same = before?.of.path === of.path && before.of.bytes === of.bytes;
    if (same && before.of.changedMs === of.changedMs) return before;
    const end = await readLogEnd(of, unit, fleet, latestMs);
    if (end === undefined || end.batch.rows === 0) return undefined;
    return { of, state: stateAfter(unit, fleet, end.batch) };
  } catch {
    return undefined;
  }
}

/** The operating state and the values after some readings: no rule looks at them, and no baseline is learned. */
function stateAfter(unit: Unit, fleet: Fleet, batch: Parameters<typeof condition>[2]): UnitState {
  const state = startUnit(unit, fleet);
  state.condition.learning = null;
  const columns = featureColumns(batch.rows, state.signals.length);
  for (let row = 0; row < batch.rows; )
    row = condition(state.condition, state.conditioned, batch, row, columns);
  return state;
}

/** A unit whose logs are still to be read, by what their end shows; without `look`, as it was before: `before`. */
export function viewFirstLook(
  before: UnitState,
  fleet: Fleet,
  look: FirstLook | undefined,
  log: LogView,
  problem: string | null,
  clockMs: number,
): UnitView {
  const state = look?.state ?? before;
  if (state.condition.lastTimeMs === null && problem === null) return { ...unknownUnit(state.unit), log };
  const view = viewUnit(state, fleet, log, problem, clockMs);
  const { startedMs, stoppedMs } = state.condition;
  // Where the state did not begin within what was read, nobody knows yet since when it holds.
  const silent = view.state === "no readings" || view.state === "laid up";
  const known = silent || startedMs !== null || stoppedMs !== null;
  return {
    ...view,
    catchingUp: true,
    sinceMs: known ? view.sinceMs : null,
    baselineNote: null,
    alarms: [],
    quiet: [],
  };
}

/** A unit of which nothing is known yet: neither what was kept of it nor the end of its log. */
export function unknownUnit({ id, site }: Unit): UnitView {
  return {
    id,
    site: site ?? null,
    catchingUp: true,
    state: "no readings",
    sinceMs: null,
    lastReadingMs: null,
    intervalMs: null,
    baseline: null,
    baselineNote: null,
    baselineAsks: false,
    readings: [],
    alarms: [],
    setAside: [],
    quiet: [],
    log: { files: [], rows: 0, repeats: 0, late: 0, rejected: 0, newestRejected: [] },
    problem: null,
    problemPriority: "medium",
  };
}
