import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { quantile } from "simple-statistics";
import { writeQuietFleet } from "./screen-logs.ts";
import { columns, drawingMs, rows, type Watched, watched } from "./terminal.ts";

const launcher = fileURLToPath(new URL("../dist/launch.js", import.meta.url));
const writer = fileURLToPath(new URL("./screen-part.ts", import.meta.url));
const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

const unitRow = /Q-\d{4} .* kPa/;
const full = ({ lines }: Watched) => lines().filter((line) => unitRow.test(line)).length > rows / 2;
const isCatchingUp = ({ lines }: Watched) =>
  lines()
    .slice(0, 5)
    .some((line) => line.includes("reading the logs"));

/** Presses down and up in turn: how long until the choice stands elsewhere, ms each. Ends early once `enough`. */
async function keyTimes(screen: Watched, most: number, enough = () => false): Promise<number[]> {
  const chosen = () => screen.lines().find((line) => line.includes("▸")) ?? "";
  const times: number[] = [];
  for (let n = 0; n < most && !enough(); n++) {
    const before = chosen().slice(0, 40);
    const changed = screen.until(() => chosen().slice(0, 40) !== before);
    screen.type(n % 2 === 0 ? "\u001b[B" : "\u001b[A");
    times.push(await changed);
    await pause(250);
  }
  return times;
}

/**
 * `npm run bench -- screen [--units 1000] [--days 30] [--seconds 20]`: the dashboard on a real pseudo-terminal of
 * 160 × 50 over a fleet in which nothing is wrong, each log growing by a row a second: how long a key takes, also
 * while a long past is read, what the drawing thread uses, what is sent over the line, and how soon the first full
 * screen stands.
 */
export async function bench(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      units: { type: "string", default: "1000" },
      days: { type: "string", default: "30" },
      seconds: { type: "string", default: "20" },
    },
  });
  const [units, days, seconds] = [Number(values.units), Number(values.days), Number(values.seconds)];
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-bench-"));
  const { PATH = "", HOME = "" } = process.env;
  const env = { PATH, HOME, TERM: "xterm-256color", LANG: "C.UTF-8", XDG_STATE_HOME: join(folder, "state") };
  const start = () => watched([launcher, "watch", join(folder, "fleet.yaml")], env);
  let writing: ReturnType<typeof spawn> | null = null;
  let screen: Watched | null = null;
  try {
    writeQuietFleet(folder, units, days);
    writing = spawn(process.execPath, [writer, folder, String(units)]);
    screen = start();
    const tailsMs = await screen.until(() => full(screen as Watched));
    const during = await keyTimes(screen, 60, () => !isCatchingUp(screen as Watched));
    const caughtUpMs = tailsMs + (await screen.until(() => !isCatchingUp(screen as Watched)));
    await pause(5000);
    const [bytes, cpuMs, begun] = [screen.bytes(), drawingMs(screen.pid), performance.now()];
    await pause(1000 * seconds);
    const spanS = (performance.now() - begun) / 1000;
    const sent = (screen.bytes() - bytes) / spanS;
    const core = (drawingMs(screen.pid) - cpuMs) / 1000 / spanS;
    const quiet = await keyTimes(screen, 60);
    screen.type("q");
    await screen.ended;
    screen = start();
    const again = screen;
    const restartMs = await screen.until(() => full(again));
    const restartReadMs = restartMs + (await screen.until(() => !isCatchingUp(again)));
    const result = {
      units,
      days,
      tailsMs,
      caughtUpMs,
      keysDuring: during.length,
      keyDuringP95Ms: quantile(during, 0.95),
      keyP95Ms: quantile(quiet, 0.95),
      keyMedianMs: quantile(quiet, 0.5),
      core,
      sentPerSecond: sent,
      restartMs,
      restartReadMs,
    };
    const line = (what: string, measured: string, wanted: string) =>
      console.log(`${what.padEnd(52)}${measured.padStart(12)}   wanted ${wanted}`);
    console.log(`${units} units, ${days} days, ${columns} × ${rows}, a reading a second and unit`);
    line("first start: a full screen of newest readings", `${tailsMs.toFixed(0)} ms`, "under 1500 ms");
    line(
      `a key while the past is read, 95th of ${during.length}`,
      `${result.keyDuringP95Ms.toFixed(0)} ms`,
      "under 50 ms",
    );
    line(`a key, 95th of ${quiet.length}`, `${result.keyP95Ms.toFixed(0)} ms`, "under 50 ms");
    line("the drawing thread, of a core", `${(100 * core).toFixed(1)} %`, "under 20 %");
    line("sent a second", `${(sent / 1000).toFixed(2)} kB`, "under 1.5 kB");
    line("restart with its state: the first full screen", `${restartMs.toFixed(0)} ms`, "under 1500 ms");
    line("  and everything that came meanwhile is read", `${restartReadMs.toFixed(0)} ms`, "(told on it)");
    console.log(JSON.stringify({ bench: "screen", ...result }));
  } finally {
    screen?.kill();
    writing?.kill();
    await pause(300);
    rmSync(folder, { recursive: true, force: true });
  }
}
