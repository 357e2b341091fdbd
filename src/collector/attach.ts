import { connect } from "node:net";
import { socketLink } from "./link.ts";
import { socketPath } from "./serve.ts";
import { firstView, type ViewThread } from "./view-thread.ts";

/** Attaches to the collector of a state folder; undefined where none answers. */
export async function attach(folder: string): Promise<ViewThread | undefined> {
  const socket = connect(socketPath(folder));
  try {
    const thread = await firstView(socketLink(socket), "the collector");
    return thread === null
      ? undefined
      : { ...thread, current: () => ({ ...thread.current(), attached: true }) };
  } catch {
    socket.destroy();
    return undefined;
  }
}
