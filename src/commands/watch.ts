import { wallClock } from "../collector/clock.ts";
import { collectorThread } from "../collector/thread.ts";
import { CannotWork } from "./context.ts";

export interface WatchOptions {
  /** Who sits there; default the login. */
  readonly by?: string;
  readonly state?: string;
  readonly debug?: boolean;
}

/** `watch`: the dashboard over the fleet's logs as they grow. */
export async function watch(fleetPath: string | undefined, options: WatchOptions): Promise<number> {
  const onTerminal = process.stdout.isTTY && process.stdin.isTTY;
  // It loads what it needs while this thread reads the fleet file; the dashboard is loaded while that one collects.
  const ready = onTerminal ? collectorThread() : undefined;
  const { loadFleet } = await import("./load-fleet.ts");
  const { fleet, path } = await loadFleet(fleetPath);
  if (!onTerminal) {
    throw new CannotWork("watch draws on a terminal, and there is none; use `check` for one look as text");
  }
  const [{ dashboardOn }, { speaker }, { keepOptions, stateFolder }] = await Promise.all([
    import("./dashboard-on.ts"),
    import("./kept-state.ts"),
    import("./state-folder.ts"),
  ]);
  const by = speaker(options.by);
  const folder = stateFolder(fleet, path, options.state);
  return dashboardOn(
    { fleet, stateFolder: folder, clock: wallClock, keep: keepOptions(fleet, folder, "watch") },
    { debug: options.debug ?? false, by },
    ready,
  );
}
