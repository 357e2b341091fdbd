import { stat } from "node:fs/promises";
import { availableParallelism } from "node:os";
import { findLogs } from "../acquire/find.ts";
import type { Fleet, ServiceRecord } from "../fleet/unit.ts";
import { addFleetTime, startFleetTime } from "./fleet-time.ts";
import type { Progress } from "./fleet-view.ts";
import { progressEveryMs, startPace } from "./pace.ts";
import { type ShareTask, startShare, type UnitRead } from "./share.ts";
import { type RemoteShare, startRemoteShare } from "./share-client.ts";

export interface FleetRead {
  /** In the order of the fleet file. */
  readonly units: readonly UnitRead[];
  /** Newest reading time of the fleet, ms; -Infinity where there is none. */
  readonly newestMs: number;
  /** Why the log folder cannot be read. */
  readonly folderProblem: string | undefined;
}

export interface ReadOnceOptions {
  /** Rows up to and including this time are read. Default: all. */
  readonly toMs?: number;
  /** Where the clock stands at the end; default `toMs`, else the newest reading of the fleet. */
  readonly clockMs?: number;
  readonly services: readonly ServiceRecord[];
  /** What is kept of units: those are read on from there. */
  readonly kept?: ShareTask["kept"];
  /** Default: one a core where there is enough to read. What is told does not depend on it. */
  readonly threads?: number;
  /** Threads started beforehand, to be used instead of new ones; they end with the read. */
  readonly started?: readonly RemoteShare[];
  /** Hears five times a second how far the logs are read. */
  readonly onProgress?: (progress: Progress) => void;
}

/** Logs below this size are read faster by one thread than others are started. */
const worthThreads = 24 * 1024 * 1024;

/** Reads a fleet's logs through once and plays them through the engines, in log time. */
export async function readOnce(fleet: Fleet, options: ReadOnceOptions): Promise<FleetRead> {
  const toMs = options.toMs ?? Number.POSITIVE_INFINITY;
  const found = await findLogs(fleet);
  const sizes = await Promise.all(fleet.units.map(({ id }) => bytesOf(found.files.get(id) ?? [])));
  const total = sizes.reduce((sum, size) => sum + size, 0);
  const threads = options.threads ?? (total < worthThreads ? 1 : availableParallelism());
  const task: ShareTask = {
    fleet,
    found,
    services: options.services,
    toMs,
    ...(options.kept && { kept: options.kept }),
  };
  // This thread begins at once, and whichever is free takes the largest unit that is left.
  const own = startShare(task);
  const others =
    options.started ??
    Array.from({ length: Math.min(threads, fleet.units.length) - 1 }, () => startRemoteShare());
  const telling = tellProgress([own, ...others], total, options.onProgress);
  const left = sizes.map((_, place) => place).sort((a, b) => sizes[b] - sizes[a]);
  const takeUnits = async (share: { read(place: number): Promise<void> }) => {
    for (let place = left.shift(); place !== undefined; place = left.shift()) await share.read(place);
  };
  try {
    await Promise.all([
      takeUnits(own),
      ...others.map(async (other) => {
        await other.begin(task);
        await takeUnits(other);
      }),
    ]);
    const fleetTime = startFleetTime();
    addFleetTime(fleetTime, own.fleetTime);
    for (const other of others) addFleetTime(fleetTime, await other.time());
    // A fleet without a reading has no time of its own.
    const newestMs = Number.isFinite(fleetTime.newestMs) ? fleetTime.newestMs : 0;
    const endMs = options.clockMs ?? options.toMs ?? newestMs;
    const finished = await Promise.all([own, ...others].map((share) => share.finish(endMs, fleetTime)));
    const units = finished.flat().sort((a, b) => a.place - b.place);
    return { units, newestMs: fleetTime.newestMs, folderProblem: found.folderProblem };
  } finally {
    // Where one share failed the others stop too: as long as a thread runs, the process does.
    clearInterval(telling);
    left.length = 0;
    await Promise.all(others.map((other) => other.close()));
  }
}

/** Tells how far the shares have read together, until the timer that is given back is cleared. */
function tellProgress(
  shares: readonly { bytesRead(): number }[],
  bytesTotal: number,
  onProgress: ReadOnceOptions["onProgress"],
): NodeJS.Timeout | undefined {
  if (onProgress === undefined) return undefined;
  const pace = startPace();
  pace.note(performance.now(), 0);
  return setInterval(() => {
    const bytesRead = shares.reduce((sum, share) => sum + share.bytesRead(), 0);
    onProgress({ bytesRead, bytesTotal, bytesPerSecond: pace.note(performance.now(), bytesRead) });
  }, progressEveryMs);
}

/** The size of some files together; one that has gone counts nothing, a packed one for what it unpacks to. */
export async function bytesOf(paths: readonly string[]): Promise<number> {
  const sizes = await Promise.all(
    paths.map((path) =>
      stat(path).then(
        ({ size }) => size,
        () => 0,
      ),
    ),
  );
  return sizes.reduce((sum, size) => sum + size, 0);
}
