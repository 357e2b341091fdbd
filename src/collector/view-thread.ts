import type { Worker } from "node:worker_threads";
import type { FleetView, UnitHistory } from "./fleet-view.ts";
import type { FromWorker, ToWorker } from "./messages.ts";

/** A thread that sends views of a fleet and answers for its units' past. */
export interface ViewThread {
  current(): FleetView;
  subscribe(listener: () => void): () => void;
  /** Rejects for an unknown unit, and where the thread has ended. */
  history(unit: string, fromMs: number, toMs: number, points: number): Promise<UnitHistory>;
  /** Settles once the thread has ended, however it did. */
  close(): Promise<void>;
  /** Rejects when the thread dies by itself; never resolves. */
  readonly failed: Promise<never>;
}

/** Waits for a worker's first view. `what` is named where it ends before a question is answered. */
export async function firstView(worker: Worker, what: string): Promise<ViewThread> {
  const listeners = new Set<() => void>();
  const asked = new Map<number, PromiseWithResolvers<UnitHistory>>();
  let requests = 0;
  let view: FleetView | undefined;
  let over = false;
  const first = Promise.withResolvers<void>();
  const failed = Promise.withResolvers<never>();
  failed.promise.catch(() => {});
  const ended = new Promise<void>((resolve) => worker.once("exit", () => resolve()));
  const hasEnded = () => new Error(`${what} has ended`);
  void ended.then(() => {
    over = true;
    first.reject(hasEnded());
    for (const { reject } of asked.values()) reject(hasEnded());
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
  await first.promise;
  return {
    current: () => view as FleetView,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    history: (unit, fromMs, toMs, points) => {
      if (over) return Promise.reject(hasEnded());
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
