import { parentPort, workerData } from "node:worker_threads";
import { second } from "../terms/time.ts";
import { startCollector } from "./collector.ts";
import type { FromWorker, ToWorker, WorkerStart } from "./messages.ts";

/** A view is sent at most this often; sooner where an alarm came or went. */
const viewEveryMs = second;
const urgentAfterMs = second / 10;

const port = parentPort;
if (port === null) throw new Error("the collector's worker is started by openCollector");
const post = (message: FromWorker) => port.postMessage(message);

let due: NodeJS.Timeout | null = null;
let dueMs = Number.POSITIVE_INFINITY;
let sentMs = 0;

const onChange = (urgent: boolean): void => {
  const at = Math.max(Date.now() + urgentAfterMs, urgent ? 0 : sentMs + viewEveryMs);
  if (at >= dueMs) return;
  if (due) clearTimeout(due);
  dueMs = at;
  due = setTimeout(sendView, at - Date.now());
};
const collector = await startCollector(workerData as WorkerStart, { onChange });

function sendView(): void {
  due = null;
  dueMs = Number.POSITIVE_INFINITY;
  sentMs = Date.now();
  post({ kind: "view", view: collector.view() });
}
sendView();

port.on("message", (message: ToWorker) => {
  if (message.kind === "history") {
    const { request, unit, fromMs, toMs, points } = message;
    post({ kind: "history", request, history: collector.history(unit, fromMs, toMs, points) });
    return;
  }
  if (due) clearTimeout(due);
  void collector.close().then(() => port.close());
});
