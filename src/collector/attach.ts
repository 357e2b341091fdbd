import { connect } from "node:net";
import type { Fleet } from "../fleet/unit.ts";
import { second } from "../terms/time.ts";
import type { FleetView } from "./fleet-view.ts";
import { socketLink } from "./link.ts";
import { socketPath, tooLong } from "./serve.ts";
import { firstView, type ViewThread } from "./view-thread.ts";

/** A collector that runs sends a new console its first view at once; one that was stopped never does. */
const answersWithinMs = second;

/** Attaches to the collector of a state folder; undefined where none answers. */
export async function attach(folder: string): Promise<ViewThread | undefined> {
  const socket = connect(socketPath(folder));
  // The system takes a connection also for a process that is stopped.
  const tooLate = setTimeout(() => socket.destroy(), answersWithinMs);
  try {
    const thread = await firstView(socketLink(socket), "the collector");
    return thread === null
      ? undefined
      : { ...thread, current: () => ({ ...thread.current(), attached: true }) };
  } catch {
    return undefined;
  } finally {
    clearTimeout(tooLate);
  }
}

/** Whether nobody is notified of a fleet, by who collects on its state folder; undefined where that cannot be told. */
export async function unnotifiedOn({ notify }: Fleet, folder: string): Promise<FleetView["unnotified"]> {
  if (notify === undefined || tooLong(folder) !== null) return undefined;
  const collector = await attach(folder);
  const view = collector?.current();
  await collector?.close();
  return view === undefined ? { sinceMs: null } : view.unnotified;
}
