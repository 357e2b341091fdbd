import { Worker } from "node:worker_threads";
import type { FleetView, UnitHistory } from "../collector/fleet-view.ts";
import type { ReplayRequest } from "../collector/replay-view.ts";
import type { FromReplay, ReplayStart, ToReplay } from "./messages.ts";

/** A replay that runs in a thread of its own, so that no key waits for it. */
export interface OpenReplay {
  current(): FleetView;
  subscribe(listener: () => void): () => void;
  /** Rejects for an unknown unit. */
  history(unit: string, fromMs: number, toMs: number, points: number): Promise<UnitHistory>;
  replay(request: ReplayRequest): void;
  /** Settles once the thread has ended, however it did. */
  close(): Promise<void>;
  /** Rejects when the thread dies by itself; never resolves. */
  readonly failed: Promise<never>;
}

/** Starts a replay in a worker and waits for its first view. */
export async function openReplay(start: ReplayStart): Promise<OpenReplay> {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./worker.js", import.meta.url), { workerData: start });
  const listeners = new Set<() => void>();
  const asked = new Map<number, PromiseWithResolvers<UnitHistory>>();
  let requests = 0;
  let view: FleetView | undefined;
  const first = Promise.withResolvers<void>();
  const failed = Promise.withResolvers<never>();
  failed.promise.catch(() => {});
  worker.on("error", (error) => failed.reject(error));
  const ended = new Promise<void>((resolve) => worker.once("exit", () => resolve()));
  worker.on("message", (message: FromReplay) => {
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
  const post = (message: ToReplay) => worker.postMessage(message);
  await Promise.race([first.promise, failed.promise]);
  return {
    current: () => view as FleetView,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    history: (unit, fromMs, toMs, points) => {
      const answer = Promise.withResolvers<UnitHistory>();
      const request = ++requests;
      asked.set(request, answer);
      post({ kind: "history", request, unit, fromMs, toMs, points });
      return answer.promise;
    },
    replay: (request) => post({ kind: "replay", request }),
    close: async () => {
      post({ kind: "close" });
      await ended;
    },
    failed: failed.promise,
  };
}
