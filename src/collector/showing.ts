import { hostname } from "node:os";
import type { LogStatus } from "../acquire/log-status.ts";
import type { Fleet } from "../fleet/unit.ts";
import type { CollectorView, FleetView, Progress, UnitView } from "./fleet-view.ts";
import { type Following, viewFollowing } from "./following.ts";
import type { Keeper } from "./keeper.ts";
import { oldRecordings } from "./old-recordings.ts";
import { startPace } from "./pace.ts";

export interface ShowingOptions {
  readonly fleet: Fleet;
  readonly units: ReadonlyMap<string, Following>;
  /** The fleet's clock, ms. */
  readonly nowMs: () => number;
  readonly stateFolder: string;
  readonly demonstration: FleetView["demonstration"];
  readonly keeper: Keeper | undefined;
  /** Who collects; undefined where nothing is kept. */
  readonly collector: Pick<CollectorView, "sinceMs" | "kind"> | undefined;
  /** What the logs to be read at the start hold, bytes; null once they have been read up to now. */
  readonly backlogBytes: () => number | null;
  /** Why a unit's logs cannot be found or read. */
  readonly problem: (unit: string) => string | undefined;
  readonly notices: () => readonly (string | null | undefined)[];
}

/** What a screen gets of a fleet that is followed, each time it is asked for. */
export function startShowing(options: ShowingOptions): () => FleetView {
  const { fleet, units, keeper, collector } = options;
  const pace = startPace();

  const progress = (statuses: readonly LogStatus[], bytesTotal: number): Progress => {
    const bytesRead = statuses.reduce((sum, status) => sum + status.bytesRead, 0);
    return { bytesRead, bytesTotal, bytesPerSecond: pace.note(performance.now(), bytesRead) };
  };

  /** Each unit as it was when all that it had told was kept: nothing is shown before. */
  const shown = new Map<string, UnitView>();
  const viewOf = (following: Following, status: LogStatus, now: number): UnitView => {
    const { id } = following.player.state.unit;
    const before = shown.get(id);
    const waits = keeper !== undefined && following.unkept.length > 0 && keeper.problem() === null;
    if (waits && before !== undefined) return before;
    const view = viewFollowing(following, fleet, status, options.problem(id), now);
    if (keeper !== undefined) shown.set(id, view);
    return view;
  };

  return () => {
    const now = options.nowMs();
    keeper?.look();
    const statuses = [...units.values()].map(({ log }) => log.status());
    const backlogBytes = options.backlogBytes();
    const views = [...units.values()].map((following, place) => viewOf(following, statuses[place], now));
    return {
      version: 1,
      fleet: fleet.name,
      timezone: fleet.timezone,
      display: fleet.display,
      clockMs: now,
      stateFolder: options.stateFolder,
      ...(options.demonstration && { demonstration: options.demonstration }),
      ...(backlogBytes !== null && { catchingUp: progress(statuses, backlogBytes) }),
      ...(collector && {
        collector: { pid: process.pid, host: hostname(), ...collector },
      }),
      notices: [...options.notices(), oldRecordings(views, now)].filter((line) => typeof line === "string"),
      units: views,
    };
  };
}
