import { Worker } from "node:worker_threads";
import type { FleetView } from "./fleet-view.ts";
import type { WorkerStart } from "./messages.ts";
import { firstView, type ViewThread } from "./view-thread.ts";

/** A collector that runs in a thread of its own. */
export interface OpenCollector extends ViewThread {
  /** The first view, from now on, that `enough` accepts. */
  viewWhere(enough: (view: FleetView) => boolean): Promise<FleetView>;
}

/** Starts a collector in a worker and waits for its first view. */
export async function openCollector(start: WorkerStart): Promise<OpenCollector> {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./worker.js", import.meta.url), { workerData: start });
  const thread = await firstView(worker, "the collector");
  const { current, subscribe, failed } = thread;
  return {
    ...thread,
    viewWhere: (enough) => {
      if (enough(current())) return Promise.resolve(current());
      const { promise, resolve } = Promise.withResolvers<FleetView>();
      const stop = subscribe(() => {
        if (!enough(current())) return;
        stop();
        resolve(current());
      });
      return Promise.race([promise, failed]);
    },
  };
}
