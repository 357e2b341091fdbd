import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeFleet } from "./follow-logs.ts";

const units = 1000;
const seconds = 30;

/** A built module, typed by its source. */
async function built<Module>(path: string): Promise<Module> {
  return (await import(new URL(`../dist/${path}`, import.meta.url).href)) as Module;
}

/**
 * `npm run bench -- follow`: 1,000 logs that each grow by a row a second, written by another process; every
 * row makes an alarm come or go. How much of a core following takes, and how long from write to event.
 */
export async function bench(): Promise<void> {
  const { startCollector } =
    await built<typeof import("../src/collector/collector.ts")>("collector/collector.js");
  const { wallClock } = await built<typeof import("../src/collector/clock.ts")>("collector/clock.js");
  const { readFleet } = await built<typeof import("../src/fleet/read.ts")>("fleet/read.js");
  const { ruleSettings } = await built<typeof import("../src/detect/rules.ts")>("detect/rules.js");
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-bench-"));
  try {
    writeFleet(folder, units);
    const text = readFileSync(join(folder, "fleet.yaml"), "utf8");
    const read = readFleet(text, { path: "fleet.yaml", folder }, ruleSettings);
    if ("problems" in read) throw new Error(read.problems.join("\n"));
    const latencies: number[] = [];
    const collector = await startCollector(
      { fleet: read.fleet, stateFolder: folder, clock: wallClock },
      {
        onChange: () => {},
        onEvent: ({ timeMs }) => latencies.push(Date.now() - timeMs),
      },
    );
    while (collector.view().catchingUp) await new Promise((resolve) => setTimeout(resolve, 50));
    latencies.length = 0;
    const writer = spawn(process.execPath, [
      fileURLToPath(new URL("./follow-part.ts", import.meta.url)),
      folder,
      String(units),
      String(seconds),
    ]);
    const before = process.cpuUsage();
    const begun = performance.now();
    await once(writer, "exit");
    await new Promise((resolve) => setTimeout(resolve, 500));
    const used = process.cpuUsage(before);
    const share = (used.user + used.system) / 1000 / (performance.now() - begun);
    await collector.close();
    latencies.sort((a, b) => a - b);
    const at = (part: number) =>
      latencies[Math.min(latencies.length - 1, Math.floor(part * latencies.length))];
    const result = { units, seconds, events: latencies.length, core: share, p50Ms: at(0.5), p99Ms: at(0.99) };
    console.log(
      `${units} logs, a row a second each, ${seconds} s: ${latencies.length} events of ${units * seconds} rows`,
    );
    console.log(`following took ${(100 * share).toFixed(1)} % of a core`);
    console.log(
      `from write to event ${result.p50Ms} ms at the median, ${result.p99Ms} ms at the 99th percentile`,
    );
    console.log(JSON.stringify({ bench: "follow", ...result }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
