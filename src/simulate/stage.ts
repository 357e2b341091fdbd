import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join, relative } from "node:path";
import { gunzipSync } from "node:zlib";
import { timeMover } from "./move-times.ts";
import { demoTimezone, recordedEndMs, sampleIntervalMs } from "./recorded-day.ts";
import { packedText } from "./samples.ts";
import { moveFleetTimes } from "./stage-fleet.ts";

/** How far the recorded day is moved so that it ends at `nowMs`, or less than a sample interval before. */
export function demoShiftMs(nowMs: number): number {
  return Math.floor((nowMs - recordedEndMs) / sampleIntervalMs) * sampleIntervalMs;
}

/**
 * Copies the demo fleet into a folder that exists, its times moved so that the recorded day ends at `nowMs`.
 *
 * `samples` is the folder of the fleet file and its logs. Gives the copy's fleet file and how far times
 * were moved, ms. Throws where a file cannot be read or written.
 */
export async function stageDemo(options: {
  readonly samples: string;
  readonly into: string;
  readonly nowMs: number;
}): Promise<{ fleetPath: string; shiftMs: number }> {
  const { samples, into, nowMs } = options;
  const shiftMs = demoShiftMs(nowMs);
  const fleetPath = join(into, "fleet.yaml");
  const fleet = await readFile(join(samples, "fleet.yaml"), "utf8");
  await writeFile(fleetPath, moveFleetTimes(fleet, shiftMs, recordedEndMs));
  const entries = await readdir(join(samples, "logs"), { recursive: true, withFileTypes: true });
  const logs = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  const move = timeMover(demoTimezone, shiftMs);
  for (const path of logs) {
    const target = join(into, relative(samples, path));
    await mkdir(dirname(target), { recursive: true });
    const bytes = await readFile(path);
    const packed = path.endsWith(".gz");
    const moved = move((packed ? gunzipSync(bytes) : bytes).toString("utf8"));
    await writeFile(target, packed ? packedText(moved, 1) : moved);
  }
  return { fleetPath, shiftMs };
}
