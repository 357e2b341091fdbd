import { Worker } from "node:worker_threads";
import type { FleetTime } from "./fleet-time.ts";
import type { ShareTask, UnitRead } from "./share.ts";
import type { AskShare, ShareAnswer } from "./share-worker.ts";

/** A share in a thread of its own. Every call throws what that thread throws. */
export interface RemoteShare {
  /** Its thread has loaded what it runs. */
  readonly ready: Promise<void>;
  /** Gives the thread its task, before anything is read. */
  begin(task: ShareTask): Promise<void>;
  /** As last told: five times a second while it reads. */
  bytesRead(): number;
  read(place: number): Promise<void>;
  time(): Promise<FleetTime>;
  finish(endMs: number, fleetTime: FleetTime): Promise<UnitRead[]>;
  /** Ends the thread, whatever it is doing: as long as it runs, the process does. */
  close(): Promise<unknown>;
}

export function startRemoteShare(): RemoteShare {
  // The compiler does not rewrite this address: it is that of the built file.
  const worker = new Worker(new URL("./share-worker.js", import.meta.url));
  let bytesRead = 0;
  const failed = Promise.withResolvers<never>();
  failed.promise.catch(() => {});
  worker.on("error", (error) => failed.reject(error));
  const loaded = Promise.withResolvers<void>();
  let onAnswer: (answer: unknown) => void = () => undefined;
  worker.on("message", (message: ShareAnswer) => {
    if (message.kind === "loaded") loaded.resolve();
    else if (message.kind === "answer") onAnswer(message.answer);
    else bytesRead = message.bytesRead;
  });
  const ask = <Answer>(asked: AskShare): Promise<Answer> => {
    const { promise, resolve } = Promise.withResolvers<Answer>();
    onAnswer = (answer) => resolve(answer as Answer);
    worker.postMessage(asked);
    return Promise.race([promise, failed.promise]);
  };
  return {
    ready: Promise.race([loaded.promise, failed.promise]),
    begin: (task) => ask({ ask: "begin", task }),
    bytesRead: () => bytesRead,
    read: (place) => ask({ ask: "read", place }),
    time: () => ask({ ask: "time" }),
    finish: (endMs, fleetTime) => ask({ ask: "finish", endMs, fleetTime }),
    close: () => worker.terminate(),
  };
}
