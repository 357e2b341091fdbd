import { readFileSync } from "node:fs";
import { spawn } from "@lydell/node-pty";
import headless from "@xterm/headless";

export const columns = 160;
export const rows = 50;
const patienceMs = 90_000;

/** A program on a pseudo-terminal of 160 × 50 whose screen is looked at whenever something has come. */
export interface Watched {
  readonly pid: number;
  /** What the program has written so far, bytes. */
  bytes(): number;
  lines(): readonly string[];
  type(text: string): void;
  /** How long until `met` is true of the screen, ms; throws after a minute and a half. */
  until(met: () => boolean): Promise<number>;
  ended: Promise<void>;
  kill(): void;
}

export function watched(args: readonly string[], env: Readonly<Record<string, string>>): Watched {
  const screen = new headless.Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 0 });
  const pty = spawn(process.execPath, [...args], { cols: columns, rows, env, name: "xterm-256color" });
  const waiting = new Set<() => void>();
  let bytes = 0;
  pty.onData((data) => {
    bytes += Buffer.byteLength(data);
    screen.write(data, () => {
      for (const look of waiting) look();
    });
  });
  screen.onData((answer) => pty.write(answer));
  const ended = new Promise<void>((resolve) => {
    pty.onExit(({ exitCode, signal }) => {
      if (exitCode !== 0 && signal !== 9)
        console.error(
          `the program ended (${exitCode}, signal ${signal}) with this on its screen:\n${lines().join("\n")}`,
        );
      resolve();
    });
  });
  const lines = () => {
    const buffer = screen.buffer.active;
    return Array.from(
      { length: rows },
      (_, row) => buffer.getLine(buffer.baseY + row)?.translateToString(true) ?? "",
    );
  };
  return {
    pid: pty.pid,
    bytes: () => bytes,
    lines,
    type: (text) => pty.write(text),
    until(met) {
      const begun = performance.now();
      return new Promise((resolve, reject) => {
        const look = () => {
          if (screen.modes.synchronizedOutputMode || !met()) return;
          clearTimeout(late);
          waiting.delete(look);
          resolve(performance.now() - begun);
        };
        const late = setTimeout(() => {
          waiting.delete(look);
          reject(new Error(`nothing of the kind on the screen:\n${lines().join("\n")}`));
        }, patienceMs);
        waiting.add(look);
        look();
      });
    },
    ended,
    kill: () => pty.kill("SIGKILL"),
  };
}

/** CPU time so far of the first thread of a process, ms: the one that draws. The kernel counts hundredths of a second. */
export function drawingMs(pid: number): number {
  const stat = readFileSync(`/proc/${pid}/task/${pid}/stat`, "utf8");
  const [user, system] = stat
    .slice(stat.lastIndexOf(")") + 2)
    .split(" ")
    .slice(11, 13);
  return 10 * (Number(user) + Number(system));
}
