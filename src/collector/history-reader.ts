import { Worker } from "node:worker_threads";
import type { Outcome } from "../store/outcome.ts";
import type { Worded } from "./event-words.ts";
import type { HistoryPage, HistoryWanted } from "./history-page.ts";
import type { AskHistory, HistoryAnswer } from "./history-worker.ts";

/** Reads pages of a state folder's alarm history in a thread of its own. */
export interface HistoryReader {
  /** A page; undefined where a later one was asked for meanwhile. */
  read(wanted: HistoryWanted): Promise<Outcome<HistoryPage | undefined>>;
  close(): void;
}

/** The thread is started at the first reading; it keeps no process alive. Messages are in the units of the fleet's display. */
export function historyReader(folder: string, { units, display }: Worded): HistoryReader {
  let worker: Worker | undefined;
  let asked = 0;
  const waiting = new Map<number, (outcome: Outcome<HistoryPage | undefined>) => void>();

  const settle = (request: number, outcome: Outcome<HistoryPage | undefined>): void => {
    waiting.get(request)?.(outcome);
    waiting.delete(request);
  };
  const started = (): Worker => {
    // The compiler does not rewrite this address: it is that of the built file.
    const thread = new Worker(new URL("./history-worker.js", import.meta.url), {
      workerData: { folder, fleet: { units, display } satisfies Worded },
    });
    thread.unref();
    thread.on("message", ({ request, outcome }: HistoryAnswer) => settle(request, outcome));
    thread.on("error", (error: Error) => {
      worker = undefined;
      for (const request of waiting.keys()) settle(request, { problem: error.message });
    });
    return thread;
  };
  return {
    read(wanted) {
      const request = ++asked;
      worker ??= started();
      const question: AskHistory = { request, wanted };
      worker.postMessage(question);
      return new Promise((resolve) => waiting.set(request, resolve));
    },
    close() {
      void worker?.terminate();
      worker = undefined;
    },
  };
}
