import { parentPort, workerData } from "node:worker_threads";
import { startAnswering } from "../collector/answering.ts";
import type { FromWorker } from "../collector/messages.ts";
import { second } from "../terms/time.ts";
import type { ReplayStart, ToReplay } from "./messages.ts";
import { openRecording } from "./recording.ts";
import { startTransport } from "./transport.ts";

/** While it plays, a view is sent at most this often, and the less often the longer views take. */
const viewEveryMs = second / 5;
const viewsShare = 10;

const port = parentPort;
if (port === null) throw new Error("the replay's worker is started by openReplay");
const post = (message: FromWorker) => port.postMessage(message);

let dueMs = 0;
const start = workerData as ReplayStart;
const transport = startTransport(await openRecording(start), start.speed, (asked) => {
  if (asked || performance.now() >= dueMs) sendView();
});

function sendView(): void {
  const beganMs = performance.now();
  post({ kind: "view", view: transport.view() });
  const endedMs = performance.now();
  dueMs = endedMs + Math.max(viewEveryMs, viewsShare * (endedMs - beganMs));
}
sendView();

const answerPast = startAnswering(() => transport, post);
port.on("message", (message: ToReplay) => {
  if (message.kind === "replay") transport.request(message.request);
  else if (message.kind === "history") answerPast(message);
  else if (message.kind === "close") void transport.close().then(() => port.close());
});
