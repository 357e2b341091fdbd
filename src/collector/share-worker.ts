import { parentPort, workerData } from "node:worker_threads";
import type { FleetTime } from "./fleet-time.ts";
import { type ShareTask, startShare, type UnitRead } from "./share.ts";

/** What the worker is asked, one thing at a time; it answers `read` with nothing, `time` and `finish` with what they give. */
export type AskShare =
  | { readonly ask: "read"; readonly place: number }
  | { readonly ask: "time" }
  | { readonly ask: "finish"; readonly endMs: number; readonly fleetTime: FleetTime };

export type ShareAnswer =
  | { readonly kind: "answer"; readonly answer: undefined | FleetTime | UnitRead[] }
  /** While it reads: how many bytes it has read so far. */
  | { readonly kind: "progress"; readonly bytesRead: number };

const port = parentPort;
if (port === null) throw new Error("the share's worker is started by startRemoteShare");
const post = (answer: ShareAnswer) => port.postMessage(answer);
const { task, progressEveryMs } = workerData as { task: ShareTask; progressEveryMs: number };
const share = startShare(task);
const tellProgress = () => post({ kind: "progress", bytesRead: share.bytesRead() });
port.on("message", async (asked: AskShare) => {
  if (asked.ask === "read") {
    const telling = setInterval(tellProgress, progressEveryMs);
    await share.read(asked.place);
    clearInterval(telling);
    tellProgress();
    post({ kind: "answer", answer: undefined });
  } else if (asked.ask === "time") post({ kind: "answer", answer: share.fleetTime });
  else {
    post({ kind: "answer", answer: share.finish(asked.endMs, asked.fleetTime) });
    port.close();
  }
});
