import { chmodSync, rmSync } from "node:fs";
import { createServer, type Socket } from "node:net";
import { join } from "node:path";
import { visible } from "../terms/text.ts";
import type { FleetView } from "./fleet-view.ts";
import { frame, onFrames } from "./link.ts";
import type { FromWorker, ToWorker } from "./messages.ts";

/** Where the consoles of a host attach to its collector. */
export function socketPath(folder: string): string {
  return join(folder, "collector.sock");
}

/** The longest path of a socket: sockaddr_un holds 108 bytes on Linux and 104 on macOS, with the NUL at its end. */
const longestPath = process.platform === "linux" ? 107 : 103;

/** Why no console can attach on this folder; null where one can. */
export function tooLong(folder: string): string | null {
  const path = socketPath(folder);
  if (Buffer.byteLength(path) <= longestPath) return null;
  return `${visible(folder)}: this path is too long for other consoles to attach; set a shorter one as \`state\` in the fleet file`;
}

/** A console that takes in no more than this at once gets the next view once it has. */
const mostWaitingBytes = 8 * 1024 ** 2;

/** Hands views to the consoles that attach. */
export interface Serving {
  /** Sends what brings a console to the view that `serve` was told of. */
  send(message: FromWorker): void;
  /** Tells each console that the state folder is being let go for an unattended collector. */
  handOver(): void;
  close(): Promise<void>;
}

/**
 * Listens in a state folder whose lock this process holds. `answering` answers what a console asks; `view` is the
 * view that was sent last, which a new one is shown first.
 */
export async function serve(
  folder: string,
  fileMode: number,
  view: () => FleetView,
  answering: (reply: (message: FromWorker) => void) => (message: ToWorker) => void,
): Promise<Serving> {
  const path = socketPath(folder);
  const consoles = new Set<Socket>();
  /** Those that took in too little: they were not sent a change, and need the whole. */
  const behind = new Set<Socket>();
  const server = createServer((socket) => {
    consoles.add(socket);
    socket.on("error", () => {});
    socket.on("close", () => {
      consoles.delete(socket);
      behind.delete(socket);
    });
    const answer = answering((message) => {
      if (socket.writable) socket.write(frame(message));
    });
    onFrames(socket, (message) => {
      // A console's `close` is for itself alone.
      if ((message as ToWorker).kind === "close") socket.end();
      answer(message as ToWorker);
    });
    socket.write(frame({ kind: "view", view: view() } satisfies FromWorker));
  });
  // Left over from a process that was killed: the lock says that nobody listens on it any more.
  rmSync(path, { force: true });
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(path, resolve);
  });
  chmodSync(path, fileMode);
  return {
    send: (message) => {
      if (consoles.size === 0) return;
      const change = frame(message);
      let whole: Buffer | undefined;
      for (const socket of consoles) {
        if (socket.writableLength >= mostWaitingBytes) behind.add(socket);
        else if (behind.delete(socket)) {
          whole ??= frame({ kind: "view", view: view() } satisfies FromWorker);
          socket.write(whole);
        } else socket.write(change);
      }
    },
    handOver: () => {
      const bytes = frame({ kind: "handed-over" } satisfies FromWorker);
      for (const socket of consoles) socket.write(bytes);
    },
    close: async () => {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      for (const socket of consoles) socket.destroy();
      await closed;
    },
  };
}
