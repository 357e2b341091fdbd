import { parentPort } from "node:worker_threads";
import type { FleetTime } from "./fleet-time.ts";
import { progressEveryMs } from "./pace.ts";
import { type Share, type ShareTask, startShare, type UnitRead } from "./share.ts";

/** What the worker is asked, one thing at a time; it answers `begin` and `read` with nothing, `time` and `finish` with what they give. */
export type AskShare =
  | { readonly ask: "begin"; readonly task: ShareTask }
  | { readonly ask: "read"; readonly place: number }
  | { readonly ask: "time" }
  | { readonly ask: "finish"; readonly endMs: number; readonly fleetTime: FleetTime };

export type ShareAnswer =
  | { readonly kind: "loaded" }
  | { readonly kind: "answer"; readonly answer: undefined | FleetTime | UnitRead[] }
  /** While it reads: how many bytes it has read so far. */
  | { readonly kind: "progress"; readonly bytesRead: number };

const port = parentPort;
if (port === null) throw new Error("the share's worker is started by startRemoteShare");
const post = (answer: ShareAnswer) => port.postMessage(answer);
let share: Share | undefined;
port.on("message", async (asked: AskShare) => {
  if (asked.ask === "begin") {
    share = startShare(asked.task);
    post({ kind: "answer", answer: undefined });
    return;
  }
  if (share === undefined) throw new Error("a share is asked before it has begun");
  const { bytesRead, read, fleetTime, finish } = share;
  const tellProgress = () => post({ kind: "progress", bytesRead: bytesRead() });
  if (asked.ask === "read") {
    const telling = setInterval(tellProgress, progressEveryMs);
    await read(asked.place);
    clearInterval(telling);
    tellProgress();
    post({ kind: "answer", answer: undefined });
  } else if (asked.ask === "time") post({ kind: "answer", answer: fleetTime });
  else {
    post({ kind: "answer", answer: finish(asked.endMs, asked.fleetTime) });
    port.close();
  }
});
post({ kind: "loaded" });
