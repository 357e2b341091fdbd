import { readFile, realpath, writeFile } from "node:fs/promises";
import { findLogs } from "../acquire/find.ts";
import { eventLine, inOrder } from "../collector/event-lines.ts";
import type { Progress } from "../collector/fleet-view.ts";
import { type FleetRead, readOnce } from "../collector/read-once.ts";
import type { ReplaySpeed } from "../collector/replay-view.ts";
import { readServices } from "../fleet/services.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { visible } from "../terms/text.ts";
import { instant } from "./check.ts";
import { CannotWork, callersPath, fileProblem } from "./context.ts";
import { viewOf } from "./fleet-status.ts";
import { loadFleet } from "./load-fleet.ts";
import { withProgress } from "./progress-line.ts";
import { unreadable } from "./unreadable.ts";

export interface ReplayOptions {
  readonly from?: string;
  readonly to?: string;
  readonly speed?: ReplaySpeed;
  readonly events?: string;
  readonly againOnChange?: boolean;
  readonly services?: string;
  readonly set?: readonly string[];
  readonly state?: string;
  readonly debug?: boolean;
}

/** What a fleet's recorded logs told. */
export interface Played {
  readonly fleet: Fleet;
  /** Absolute path of the fleet file. */
  readonly path: string;
  readonly services: readonly ServiceRecord[];
  readonly read: FleetRead;
  readonly fromMs: number | undefined;
  /** `--to`, or the newest reading. */
  readonly toMs: number;
  /** Every event, also those before `fromMs`. */
  readonly all: readonly AlarmEvent[];
  /** From `fromMs` on. */
  readonly events: readonly AlarmEvent[];
}

/** Throws `CannotWork` where events would be written over what they are made from. */
async function keepInputs(events: string, fleetPath: string, fleet: Fleet, services?: string): Promise<void> {
  if (events === "-") return;
  const target = await realPath(callersPath(events));
  const { files } = await findLogs(fleet);
  const inputs = [
    fleetPath,
    ...(services === undefined ? [] : [callersPath(services)]),
    ...[...files.values()].flat(),
  ];
  for (const input of inputs) {
    if ((await realPath(input)) !== target) continue;
    throw new CannotWork(`--events ${visible(events)} would overwrite what is replayed; name another file`);
  }
}

/** A path with its links followed; as it is where there is no such file. */
function realPath(path: string): Promise<string> {
  return realpath(path).catch(() => path);
}

/** A screen that shows the reading. */
export interface ReadingShown {
  tell(progress: Progress): void;
  /** A line for people, for once the screen is given back. */
  note(line: string): void;
}

/**
 * Reads the logs through, and names on standard error, or to what `show` gives, each unit that cannot be read. Throws
 * `CannotWork` where none can.
 */
export async function playThrough(
  fleetPath: string | undefined,
  options: ReplayOptions,
  show?: (fleet: Fleet) => ReadingShown,
): Promise<Played> {
  const { fleet, path } = await loadFleet(fleetPath, options.set);
  if (options.events !== undefined) await keepInputs(options.events, path, fleet, options.services);
  const fromMs = options.from === undefined ? undefined : instant(options.from, "--from", fleet.timezone);
  const toMs = options.to === undefined ? undefined : instant(options.to, "--to", fleet.timezone);
  if (fromMs !== undefined && toMs !== undefined && fromMs > toMs) {
    throw new CannotWork(`--from ${options.from} is after --to ${options.to}; write the earlier time first`);
  }
  const services =
    options.services === undefined ? fleet.services : await servicesFrom(options.services, fleet);
  const shown = show?.(fleet);
  const reading = (onProgress: ReadingShown["tell"]) => readOnce(fleet, { toMs, services, onProgress });
  const read = await (shown ? reading(shown.tell) : withProgress(reading));
  const endMs = Number.isFinite(read.newestMs) ? read.newestMs : (toMs ?? 0);
  const nothing = unreadable(viewOf(fleet, read, endMs, ""), fleet);
  if (nothing.length > 0) throw new CannotWork(...nothing);
  for (const { id, view } of read.units) {
    if (view.problem === null) continue;
    const line = `${id}: ${view.problem}`;
    if (shown) shown.note(line);
    else process.stderr.write(`${line}\n`);
  }
  const all = inOrder(read.units);
  const events = all.filter(({ timeMs }) => timeMs >= (fromMs ?? Number.NEGATIVE_INFINITY));
  return { fleet, path, services, read, fromMs, toMs: toMs ?? endMs, all, events };
}

async function servicesFrom(path: string, fleet: Fleet): Promise<readonly ServiceRecord[]> {
  const text = await readFile(callersPath(path), "utf8").catch((error: unknown) => {
    throw new CannotWork(fileProblem(path, error));
  });
  const read = readServices(text, path, fleet);
  if ("problems" in read) throw new CannotWork(...read.problems);
  return read.services;
}

/** Writes events to a file, or to standard output for `-`, a line each. */
export async function writeEvents(path: string, events: readonly AlarmEvent[]): Promise<void> {
  const text = events.map((event) => `${eventLine(event)}\n`).join("");
  if (path === "-") {
    // Also called where the reader of a pipe has gone: that is no error here.
    await new Promise<void>((resolve) => process.stdout.write(text, () => resolve()));
    return;
  }
  await writeFile(callersPath(path), text).catch((error: unknown) => {
    throw new CannotWork(`${fileProblem(path, error, "write")}; name a file that can be written, or -`);
  });
}
