import { parentPort, workerData } from "node:worker_threads";
import type { FleetTime } from "./fleet-time.ts";
import { type ShareTask, startShare } from "./share.ts";

/** What the worker is asked, one thing at a time; it answers `read` with nothing, `time` and `finish` with what they give. */
export type AskShare =
  | { readonly ask: "read"; readonly place: number }
  | { readonly ask: "time" }
  | { readonly ask: "finish"; readonly endMs: number; readonly fleetTime: FleetTime };

const port = parentPort;
if (port === null) throw new Error("the share's worker is started by startRemoteShare");
const share = startShare(workerData as ShareTask);
port.on("message", async (asked: AskShare) => {
  if (asked.ask === "read") port.postMessage(await share.read(asked.place));
  else if (asked.ask === "time") port.postMessage(share.fleetTime);
  else {
    port.postMessage(share.finish(asked.endMs, asked.fleetTime));
    port.close();
  }
});
