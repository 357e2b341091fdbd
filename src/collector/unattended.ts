import { Worker } from "node:worker_threads";
import type { AlarmEvent } from "../terms/events.ts";
import { attach } from "./attach.ts";
import { workerLink } from "./link.ts";
import type { WorkerStart } from "./messages.ts";
import { firstView, type ViewThread } from "./view-thread.ts";

/** What came of starting to collect without a screen. */
export type Unattended =
  | { readonly thread: ViewThread }
  /** Another process collects there: who, where it says so. */
  | { readonly taken: string };

/** Collects in a thread of its own, and attaches nowhere. `onEvent` hears of each event once it is kept. */
export async function openUnattended(
  start: WorkerStart,
  onEvent: (event: AlarmEvent) => void,
): Promise<Unattended> {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./worker.js", import.meta.url), { workerData: start });
  const thread = await firstView(workerLink(worker), "the collector", onEvent);
  if (thread !== null) return { thread };
  const other = start.keep && (await attach(start.keep.folder));
  const by = other?.current().collector;
  await other?.close();
  return { taken: by === undefined ? "another process" : `process ${by.pid} on ${by.host} (${by.kind})` };
}
