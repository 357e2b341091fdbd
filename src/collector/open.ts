import { Worker } from "node:worker_threads";
import type { FleetView, UnitHistory } from "./fleet-view.ts";
import type { FromWorker, ToWorker, WorkerStart } from "./messages.ts";

/** A collector that runs in a thread of its own. */
export interface OpenCollector {
  current(): FleetView;
  subscribe(listener: () => void): () => void;
  /** The first view, from now on, that `enough` accepts. */
  viewWhere(enough: (view: FleetView) => boolean): Promise<FleetView>;
  /** Rejects for an unknown unit, and where the thread has ended. */
  history(unit: string, fromMs: number, toMs: number, points: number): Promise<UnitHistory>;
  /** Settles once the thread has ended, however it did. */
  close(): Promise<void>;
  /** Rejects when the thread dies by itself; never resolves. */
  readonly failed: Promise<never>;
}

/** Starts a collector in a worker and waits for its first view. */
export async function openCollector(start: WorkerStart): Promise<OpenCollector> {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./worker.js", import.meta.url), { workerData: start });
  const listeners = new Set<() => void>();
  const asked = new Map<number, PromiseWithResolvers<UnitHistory>>();
  let requests = 0;
  let view: FleetView | undefined;
  const first = Promise.withResolvers<void>();
  const failed = Promise.withResolvers<never>();
  failed.promise.catch(() => {});
  let over = false;
  const ended = new Promise<void>((resolve) => worker.once("exit", () => resolve()));
  void ended.then(() => {
    over = true;
    first.reject(new Error("the collector has ended"));
    for (const { reject } of asked.values()) reject(new Error("the collector has ended"));
    asked.clear();
  });
  worker.on("error", (error) => {
    failed.reject(error);
    first.reject(error);
  });
  worker.on("message", (message: FromWorker) => {
    if (message.kind === "view") {
      view = message.view;
      first.resolve();
      for (const listener of listeners) listener();
      return;
    }
    const answer = asked.get(message.request);
    asked.delete(message.request);
    if (message.history) answer?.resolve(message.history);
    else answer?.reject(new Error("the fleet has no such unit"));
  });
  const post = (message: ToWorker) => worker.postMessage(message);
  const subscribe = (listener: () => void) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  };
  await first.promise;
  const current = () => view as FleetView;
  return {
    current,
    subscribe,
    viewWhere: (enough) => {
      if (enough(current())) return Promise.resolve(current());
      const { promise, resolve } = Promise.withResolvers<FleetView>();
      const stop = subscribe(() => {
        if (!enough(current())) return;
        stop();
        resolve(current());
      });
      return Promise.race([promise, failed.promise]);
    },
    history: (unit, fromMs, toMs, points) => {
      if (over) return Promise.reject(new Error("the collector has ended"));
      const answer = Promise.withResolvers<UnitHistory>();
      const request = ++requests;
      asked.set(request, answer);
      post({ kind: "history", request, unit, fromMs, toMs, points });
      return answer.promise;
    },
    close: async () => {
      post({ kind: "close" });
      await ended;
    },
    failed: failed.promise,
  };
}
