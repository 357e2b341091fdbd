import type { Socket } from "node:net";
import { deserialize, serialize } from "node:v8";
import type { Worker } from "node:worker_threads";
import type { FromWorker, ToWorker } from "./messages.ts";

/** The way to a collector and back, in a thread of this process or in another process. */
export interface Link {
  post(message: ToWorker): void;
  onMessage(listener: (message: FromWorker) => void): void;
  /** Once, however it ended; with an error where it failed. */
  onEnd(listener: (error?: Error) => void): void;
}

export function workerLink(worker: Worker): Link {
  return {
    post: (message) => worker.postMessage(message),
    onMessage: (listener) => worker.on("message", listener),
    onEnd: (listener) => {
      let error: Error | undefined;
      worker.once("error", (failure: Error) => {
        error = failure;
      });
      worker.once("exit", () => listener(error));
    },
  };
}

export function socketLink(socket: Socket): Link {
  return {
    post: (message) => {
      socket.write(frame(message));
    },
    onMessage: (listener) => onFrames(socket, (message) => listener(message as FromWorker)),
    onEnd: (listener) => {
      // Whatever went wrong on the way, what there is to do is the same: look for a collector again.
      socket.on("error", () => {});
      socket.once("close", () => listener());
    },
  };
}

const lengthBytes = 4;

/** A message as bytes: their number, then what `v8.serialize` makes of it, which keeps NaN as it is. */
export function frame(message: unknown): Buffer {
  const body = serialize(message);
  const length = Buffer.alloc(lengthBytes);
  length.writeUInt32LE(body.length);
  return Buffer.concat([length, body]);
}

/** Gives each whole message that comes over a socket. */
export function onFrames(socket: Socket, listener: (message: unknown) => void): void {
  let pieces: Buffer[] = [];
  let bytes = 0;
  let wanted = lengthBytes;
  let isLength = true;
  socket.on("data", (piece: Buffer) => {
    pieces.push(piece);
    bytes += piece.length;
    while (bytes >= wanted) {
      const all = Buffer.concat(pieces);
      const part = all.subarray(0, wanted);
      const rest = all.subarray(wanted);
      pieces = [rest];
      bytes = rest.length;
      if (isLength) wanted = part.readUInt32LE();
      else {
        wanted = lengthBytes;
        let message: unknown;
        try {
          message = deserialize(part);
        } catch {
          // Another program, or another version of this one: there is nothing to say to it.
          socket.destroy();
          return;
        }
        listener(message);
      }
      isLength = !isLength;
    }
  });
}
