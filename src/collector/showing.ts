import { hostname } from "node:os";
import type { LogStatus } from "../acquire/log-status.ts";
import type { Fleet } from "../fleet/unit.ts";
import { commonCausesOf } from "./common-causes.ts";
import { unknownUnit } from "./first-look.ts";
import type { CollectorView, FleetView, Progress, UnitView } from "./fleet-view.ts";
import { type Following, viewFollowing } from "./following.ts";
import type { Keeper } from "./keeper.ts";
import { oldRecordings } from "./old-recordings.ts";
import { startPace } from "./pace.ts";

interface ViewOptions {
  readonly fleet: Fleet;
  readonly units: ReadonlyMap<string, Following>;
  /** The fleet's clock, ms. */
  readonly nowMs: () => number;
  readonly stateFolder: string;
  readonly demonstration: FleetView["demonstration"];
  /** Who collects; undefined where nothing is kept. */
  readonly collector: Pick<CollectorView, "sinceMs" | "kind"> | undefined;
}

export interface ShowingOptions extends ViewOptions {
  readonly keeper: Keeper | undefined;
  /** What the logs to be read at the start hold, bytes; null once they have been read up to now. */
  readonly backlogBytes: () => number | null;
  /** Why a unit's logs cannot be found or read. */
  readonly problem: (unit: string) => string | undefined;
  readonly notices: () => readonly (string | null | undefined)[];
}

/** What any view of a fleet says, whatever is known of its units. */
function fleetWords({ fleet, stateFolder, demonstration, collector, nowMs }: ViewOptions) {
  return {
    version: 1,
    fleet: fleet.name,
    timezone: fleet.timezone,
    display: fleet.display,
    clockMs: nowMs(),
    stateFolder,
    ...(demonstration && { demonstration }),
    ...(collector && { collector: { pid: process.pid, host: hostname(), ...collector } }),
  } as const;
}

/** What a screen is shown while the other units are still taken up: of those nothing is known yet. */
export function earlyView(options: ViewOptions): FleetView {
  const { fleet, units } = options;
  const words = fleetWords(options);
  return {
    ...words,
    catchingUp: { bytesRead: 0, bytesTotal: 0, bytesPerSecond: null },
    notices: [],
    units: fleet.units.map((unit) => {
      const following = units.get(unit.id);
      if (following === undefined) return unknownUnit(unit);
      return viewFollowing(following, fleet, following.log.status(), undefined, words.clockMs);
    }),
  };
}

/** What a screen gets of a fleet that is followed, each time it is asked for. */
export function startShowing(options: ShowingOptions): () => FleetView {
  const { fleet, units, keeper } = options;
  const pace = startPace();

  const progress = (statuses: readonly LogStatus[], bytesTotal: number): Progress => {
    const bytesRead = statuses.reduce((sum, status) => sum + status.bytesRead, 0);
    return { bytesRead, bytesTotal, bytesPerSecond: pace.note(performance.now(), bytesRead) };
  };

  /** Each unit as it was when all that it had told was kept: nothing is shown before. */
  const shown = new Map<string, UnitView>();
  /** When it was found of a unit that it cannot be read. */
  const found = new Map<string, number>();
  const withFound = (view: UnitView, now: number): UnitView => {
    const { id, problem, unreadSinceMs } = view;
    if (problem === null) found.delete(id);
    else if (!found.has(id)) found.set(id, now);
    return problem === null ? view : { ...view, unreadSinceMs: unreadSinceMs ?? found.get(id) ?? now };
  };
  const viewOf = (following: Following, status: LogStatus, now: number): UnitView => {
    const { id } = following.player.state.unit;
    const before = shown.get(id);
    const waits = keeper !== undefined && following.unkept.length > 0 && keeper.problem() === null;
    if (waits && before !== undefined) return before;
    const view = withFound(viewFollowing(following, fleet, status, options.problem(id), now), now);
    if (keeper !== undefined) shown.set(id, view);
    return view;
  };

  return () => {
    keeper?.look();
    const words = fleetWords(options);
    const statuses = [...units.values()].map(({ log }) => log.status());
    const views = [...units.values()].map((following, place) =>
      viewOf(following, statuses[place], words.clockMs),
    );
    const backlogBytes = options.backlogBytes();
    return {
      ...words,
      ...(backlogBytes !== null && { catchingUp: progress(statuses, backlogBytes) }),
      notices: [...options.notices(), oldRecordings(views, words.clockMs)].filter(
        (line) => typeof line === "string",
      ),
      units: views,
      ...commonCausesOf(views),
    };
  };
}
