import type { RunSchedule } from "../fleet/unit.ts";
import { day, minute } from "../terms/time.ts";

/** A stretch of time in which somebody has switched a unit off. */
export interface Stop {
  readonly fromMs: number;
  readonly toMs: number;
  /** The gas line and the generator are cleaned in it. */
  readonly cleaned?: boolean;
}

/** Whether a schedule and nobody's stop let a unit run at `timeMs`, on a wall clock `localOffsetMs` from UTC. */
export function scheduledToRun(
  runs: RunSchedule,
  stops: readonly Stop[],
  localOffsetMs: number,
  timeMs: number,
): boolean {
  if (stops.some((stop) => timeMs >= stop.fromMs && timeMs < stop.toMs)) return false;
  if (runs.kind !== "windows") return runs.kind === "always";
  const local = timeMs + localOffsetMs;
  const ofDay = (local - Math.floor(local / day) * day) / minute;
  return runs.windows.some(({ from, to }) =>
    from < to ? ofDay >= from && ofDay < to : ofDay >= from || ofDay < to,
  );
}
