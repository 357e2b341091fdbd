import { spawn } from "node:child_process";
import type { CommandWay } from "../fleet/notify.ts";
import { visible } from "../terms/text.ts";
import { second } from "../terms/time.ts";
import type { Letter, Send, Tried } from "./sending.ts";

/** What a command says of its failure is read so far. */
const mostErrorBytes = 4096;

/** Time that an asked process has to end, ms. */
const usualGraceMs = 2 * second;

/**
 * Runs a program, without a shell, with the message as JSON on its standard input and in its environment; exit
 * status 0 is delivered. `secrets`: names of environment variables that it is not to see.
 */
export function commandSend(
  { command: [program = "", ...args], timeoutMs }: CommandWay,
  secrets: readonly string[],
  graceMs = usualGraceMs,
): Send {
  return (letter) =>
    new Promise((resolve) => {
      // A group of its own: its own children end with it.
      const child = spawn(program, args, {
        env: environment(letter, secrets),
        stdio: ["pipe", "ignore", "pipe"],
        detached: true,
        shell: false,
        windowsHide: true,
      });
      let said = "";
      let isLate = false;
      const end = (signal: NodeJS.Signals) => {
        try {
          if (child.pid !== undefined) process.kill(-child.pid, signal);
        } catch {
          // The group is gone, or there are none on this system.
          child.kill(signal);
        }
      };
      const timers = [
        setTimeout(() => {
          isLate = true;
          end("SIGTERM");
        }, timeoutMs),
        setTimeout(() => {
          end("SIGKILL");
          done({
            outcome: "failed",
            detail: `it had not ended after ${timeoutMs / second} s, and was ended`,
          });
        }, timeoutMs + graceMs),
      ];
      const done = (tried: Tried) => {
        for (const timer of timers) clearTimeout(timer);
        child.stderr.destroy();
        resolve(tried);
      };
      child.stderr.setEncoding("utf8").on("data", (text: string) => {
        if (said.length < mostErrorBytes) said += text.slice(0, mostErrorBytes);
      });
      // A program need not read what it is given.
      child.stdin.on("error", () => {});
      child.stdin.end(`${letter.json}\n`);
      child.on("error", (error) => done({ outcome: "refused", detail: whyNot(program, error) }));
      child.on("exit", (status, signal) => {
        if (status === 0 && !isLate) return done({ outcome: "delivered" });
        if (isLate) {
          end("SIGKILL");
          return done({
            outcome: "failed",
            detail: `it had not ended after ${timeoutMs / second} s, and was ended`,
          });
        }
        // What it wrote last may still be on its way.
        setImmediate(() => {
          const how = status === null ? `it was ended by ${signal}` : `it ended with status ${status}`;
          const line = visible(said.trim().split("\n").at(-1) ?? "").slice(0, 200);
          done({ outcome: "failed", detail: line === "" ? how : `${how}: ${line}` });
        });
      });
    });
}

function whyNot(program: string, error: NodeJS.ErrnoException): string {
  const name = visible(program);
  if (error.code === "ENOENT") return `${name}: there is no such program; write its whole path`;
  if (error.code === "EACCES") return `${name}: it may not be run; give this user the right to`;
  return `${name}: ${visible(error.message)}`;
}

function environment({ message, content }: Letter, secrets: readonly string[]): NodeJS.ProcessEnv {
  const hidden = Object.fromEntries(secrets.map((name) => [name, undefined]));
  const [first] = content.alarms as readonly { unit?: string; alarm?: string; since?: string }[];
  return {
    ...process.env,
    ...hidden,
    TARNWATCH_ID: message,
    TARNWATCH_TYPE: content.type,
    TARNWATCH_FLEET: visible(content.fleet),
    TARNWATCH_SITE: visible(content.site ?? ""),
    TARNWATCH_PRIORITY: content.priority ?? "",
    TARNWATCH_UNIT: first?.unit ?? "",
    TARNWATCH_ALARM: first?.alarm ?? "",
    TARNWATCH_SINCE: first?.since ?? "",
    TARNWATCH_SUBJECT: content.subject,
    TARNWATCH_TEXT: content.text,
  };
}
