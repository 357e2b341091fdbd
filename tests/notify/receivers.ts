import { once } from "node:events";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer, type IncomingHttpHeaders, type ServerResponse } from "node:http";
import { type AddressInfo, createServer as createTcpServer, type Server, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach } from "vitest";
import type { Content } from "../../src/notify/content.ts";
import type { Letter } from "../../src/notify/sending.ts";

const cleanUps: (() => void)[] = [];
afterEach(() => {
  for (const cleanUp of cleanUps.splice(0).reverse()) cleanUp();
});

export function folder(): string {
  const made = mkdtempSync(join(tmpdir(), "tarnwatch-notify-"));
  cleanUps.push(() => rmSync(made, { recursive: true, force: true }));
  return made;
}

/** A secret of 32 bytes in a file of its own. */
export function secretFile(secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSwMfKQ9r8GKYo="): string {
  const path = join(folder(), "secret");
  writeFileSync(path, `${secret}\n`);
  return path;
}

/** A script for Node in a file of its own. */
export function script(text: string): string {
  const path = join(folder(), "way.mjs");
  writeFileSync(path, text);
  return path;
}

export function letterOf(over: Partial<Content> = {}): Letter {
  const content: Content = {
    type: "alarm.raised",
    timestamp: "2026-05-04T08:12:20.000Z",
    id: "LM-01/7@20260504T081220Z",
    fleet: "Larkmoor ponds",
    priority: "high",
    site: "Heron Bend",
    subject: "HIGH: Heron Bend LM-01 lost-prime since 03:11. Ask somebody on site to unplug it.",
    text: "HIGH: Heron Bend LM-01 lost-prime since 03:11.\n\nWhy: it lost its prime.",
    alarms: [{ unit: "LM-01", alarm: "lost-prime", since: "2026-05-04T08:11:50.000Z" }],
    more: [],
    ...over,
  };
  return { message: content.id, json: JSON.stringify(content), content };
}

export interface Request {
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

export interface Receiver {
  readonly url: string;
  readonly requests: Request[];
}

async function listening(server: Server): Promise<number> {
  server.listen(0, "127.0.0.1");
  await once(server, "listening");
  return (server.address() as AddressInfo).port;
}

/** A receiver of webhooks on this computer; `answer` gets the place of the request, from 1. */
export async function receiver(answer: (response: ServerResponse, n: number) => void): Promise<Receiver> {
  const requests: Request[] = [];
  const server = createServer((request, response) => {
    let body = "";
    request.setEncoding("utf8").on("data", (text: string) => {
      body += text;
    });
    request.on("end", () => {
      requests.push({ headers: request.headers, body });
      answer(response, requests.length);
    });
  });
  const port = await listening(server);
  cleanUps.push(() => {
    server.closeAllConnections();
    server.close();
  });
  return { url: `http://127.0.0.1:${port}/alarms`, requests };
}

export interface Mailbox {
  readonly port: number;
  /** What came between DATA and the dot. */
  readonly mails: string[];
  readonly commands: string[];
}

/** A mail server on this computer that answers as RFC 5321 asks; `replies` stand for the usual ones, by command. */
export async function mailbox(replies: Readonly<Record<string, string>> = {}): Promise<Mailbox> {
  const mails: string[] = [];
  const commands: string[] = [];
  const sockets = new Set<Socket>();
  const server = createTcpServer((socket) => {
    sockets.add(socket);
    let waiting = "";
    let isData = false;
    const reply = (line: string) => socket.write(`${line}\r\n`);
    reply(replies.greeting ?? "220 mail.example.org ready");
    socket.on("error", () => {});
    socket.setEncoding("utf8").on("data", (text: string) => {
      waiting += text;
      for (;;) {
        const end = isData ? "\r\n.\r\n" : "\r\n";
        const at = waiting.indexOf(end);
        if (at < 0) return;
        const got = waiting.slice(0, at);
        waiting = waiting.slice(at + end.length);
        if (isData) {
          isData = false;
          mails.push(got);
          reply(replies.end ?? "250 2.0.0 taken");
          continue;
        }
        commands.push(got);
        const command = got.slice(0, 4).toUpperCase();
        const known = replies[command];
        if (known !== undefined) reply(known);
        else if (command === "EHLO") reply("250-mail.example.org\r\n250 AUTH PLAIN");
        else if (command === "AUTH") reply("235 2.7.0 welcome");
        else if (command === "QUIT") socket.end("221 bye\r\n");
        else if (command === "DATA") {
          isData = true;
          reply("354 go on");
        } else reply(command === "STAR" ? "502 5.5.1 not here" : "250 ok");
      }
    });
  });
  const port = await listening(server);
  cleanUps.push(() => {
    for (const socket of sockets) socket.destroy();
    server.close();
  });
  return { port, mails, commands };
}
