import { Worker } from "node:worker_threads";
import { workerLink } from "../collector/link.ts";
import type { ReplayRequest } from "../collector/replay-view.ts";
import { firstView, type ViewThread } from "../collector/view-thread.ts";
import type { ReplayStart, ToReplay } from "./messages.ts";

/** A replay that runs in a thread of its own, so that no key waits for it. */
export interface OpenReplay extends ViewThread {
  replay(request: ReplayRequest): void;
}

/** Starts a replay in a worker and waits for its first view. */
export async function openReplay(start: ReplayStart): Promise<OpenReplay> {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./worker.js", import.meta.url), { workerData: start });
  const post = (message: ToReplay) => worker.postMessage(message);
  const thread = await firstView(workerLink(worker), "the replay");
  if (thread === null) throw new Error("a replay collects nothing");
  return { ...thread, replay: (request) => post({ kind: "replay", request }) };
}
