import { connect } from "node:net";
import { second } from "../terms/time.ts";
import { socketLink } from "./link.ts";
import { socketPath } from "./serve.ts";
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
