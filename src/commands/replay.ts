import { readFile, writeFile } from "node:fs/promises";
import { eventLine, inOrder } from "../collector/event-lines.ts";
import { readOnce } from "../collector/read-once.ts";
import { readServices } from "../fleet/services.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import { instant } from "./check.ts";
import { CannotWork, callersPath, fileProblem } from "./context.ts";
import { viewOf } from "./fleet-status.ts";
import { loadFleet } from "./load-fleet.ts";
import { withProgress } from "./progress-line.ts";
import { unreadable } from "./unreadable.ts";

export interface ReplayOptions {
  readonly from?: string;
  readonly to?: string;
  readonly events?: string;
  readonly services?: string;
  readonly set?: readonly string[];
}

/** `replay`: plays recorded logs through the rules in log time and writes the events, a line each. */
export async function replay(fleetPath: string, options: ReplayOptions): Promise<number> {
  if (options.events === undefined) {
    throw new CannotWork("replay: name a file for the events, or - for standard output: --events -");
  }
  const { fleet } = await loadFleet(fleetPath, options.set);
  const fromMs = options.from === undefined ? Number.NEGATIVE_INFINITY : instant(options.from, "--from");
  const toMs = options.to === undefined ? undefined : instant(options.to, "--to");
  if (toMs !== undefined && fromMs > toMs) {
    throw new CannotWork(`--from ${options.from} is after --to ${options.to}; write the earlier time first`);
  }
  const services =
    options.services === undefined ? fleet.services : await servicesFrom(options.services, fleet);
  const read = await withProgress((onProgress) => readOnce(fleet, { toMs, services, onProgress }));
  const endMs = Number.isFinite(read.newestMs) ? read.newestMs : (toMs ?? 0);
  const nothing = unreadable(viewOf(fleet, read, endMs, ""), fleet);
  if (nothing.length > 0) throw new CannotWork(...nothing);
  for (const { id, view } of read.units) {
    if (view.problem !== null) process.stderr.write(`${id}: ${view.problem}\n`);
  }
  const events = inOrder(read.units);
  const text = events
    .filter((event) => event.timeMs >= fromMs)
    .map((event) => `${eventLine(event)}\n`)
    .join("");
  await write(options.events, text);
  return 0;
}

async function servicesFrom(path: string, fleet: Fleet): Promise<readonly ServiceRecord[]> {
  const text = await readFile(callersPath(path), "utf8").catch((error: unknown) => {
    throw new CannotWork(fileProblem(path, error));
  });
  const read = readServices(text, path, fleet);
  if ("problems" in read) throw new CannotWork(...read.problems);
  return read.services;
}

async function write(path: string, text: string): Promise<void> {
  if (path === "-") {
    // Also called where the reader of a pipe has gone: that is no error here.
    await new Promise<void>((resolve) => process.stdout.write(text, () => resolve()));
    return;
  }
  await writeFile(callersPath(path), text).catch((error: unknown) => {
    throw new CannotWork(`${fileProblem(path, error)}; name a file that can be written, or -`);
  });
}
