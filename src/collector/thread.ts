import { Worker } from "node:worker_threads";
import type { WorkerStart } from "./messages.ts";

/** A thread that collects once it is told what: it loads what it needs meanwhile, and keeps no process alive before. */
export function collectorThread(): Worker {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./worker.js", import.meta.url));
  worker.unref();
  return worker;
}

export function beginIn(worker: Worker, start: WorkerStart): void {
  worker.ref();
  worker.postMessage({ kind: "start", start });
}
