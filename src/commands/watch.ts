import { wallClock } from "../collector/clock.ts";
import { CannotWork } from "./context.ts";
import { dashboardOn } from "./dashboard-on.ts";
import { speaker } from "./kept-state.ts";
import { loadFleet } from "./load-fleet.ts";
import { keepOptions, stateFolder } from "./state-folder.ts";

export interface WatchOptions {
  /** Who sits there; default the login. */
  readonly by?: string;
  readonly state?: string;
  readonly debug?: boolean;
}

/** `watch`: the dashboard over the fleet's logs as they grow. */
export async function watch(fleetPath: string | undefined, options: WatchOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  if (!process.stdout.isTTY || !process.stdin.isTTY) {
    throw new CannotWork("watch draws on a terminal, and there is none; use `check` for one look as text");
  }
  const by = speaker(options.by);
  const folder = stateFolder(fleet, path, options.state);
  return dashboardOn(
    { fleet, stateFolder: folder, clock: wallClock, keep: keepOptions(fleet, folder, "watch") },
    { debug: options.debug ?? false, by },
  );
}
