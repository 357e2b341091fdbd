import { once } from "node:events";
import { Worker } from "node:worker_threads";
import type { FleetTime } from "./fleet-time.ts";
import type { ShareTask, UnitRead } from "./share.ts";
import type { AskShare } from "./share-worker.ts";

/** A share in a thread of its own. Every call throws what that thread throws. */
export interface RemoteShare {
  read(place: number): Promise<void>;
  time(): Promise<FleetTime>;
  finish(endMs: number, fleetTime: FleetTime): Promise<UnitRead[]>;
}

export function startRemoteShare(task: ShareTask): RemoteShare {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./share-worker.js", import.meta.url), { workerData: task });
  const ask = async <Answer>(asked: AskShare): Promise<Answer> => {
    const answer = once(worker, "message");
    worker.postMessage(asked);
    return (await answer)[0] as Answer;
  };
  return {
    read: (place) => ask({ ask: "read", place }),
    time: () => ask({ ask: "time" }),
    finish: (endMs, fleetTime) => ask({ ask: "finish", endMs, fleetTime }),
  };
}
