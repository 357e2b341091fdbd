import { join } from "node:path";
import { findLogs } from "../../src/acquire/find.ts";
import { type FleetRead, type ReadOnceOptions, readOnce } from "../../src/collector/read-once.ts";
import { startShare } from "../../src/collector/share.ts";
import { ruleSettings } from "../../src/detect/rules.ts";
import { readFleet } from "../../src/fleet/read.ts";
import type { Fleet } from "../../src/fleet/unit.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { fleetFile } from "./fleets.ts";
import { logText } from "./log-files.ts";
import { folderWith } from "./program.ts";
import { lines } from "./unit-days.ts";

/** The fleet of a fleet file's text. Throws its problems. */
export function fleetOf(text: string, folder: string): Fleet {
  const read = readFleet(text, { path: "fleet.yaml", folder }, ruleSettings);
  if ("problems" in read) throw new Error(read.problems.join("\n"));
  return read.fleet;
}

/** A unit's keys in flow style, and its readings. */
export interface PlayedUnit {
  readonly yaml: string;
  readonly batch: ReadingBatch;
}

/** Units played through real logs in a temporary folder; each is named by the id in its keys. */
export function playFleet(
  units: readonly PlayedUnit[],
  options: Partial<ReadOnceOptions> = {},
  top = "",
): Promise<FleetRead> {
  const folder = folderWith(
    Object.fromEntries(units.map(({ yaml, batch }) => [`logs/${idIn(yaml)}.csv`, logText(batch)])),
  );
  const text = fleetFile(
    units.map(({ yaml }) => yaml),
    top,
  );
  const fleet = fleetOf(text, folder);
  return readOnce({ ...fleet, logs: join(folder, "logs") }, { services: fleet.services, ...options });
}

function idIn(yaml: string): string {
  return /id: ([\w-]+)/.exec(yaml)?.[1] ?? "";
}

/** A fleet's first unit read through once, with its engine. */
export async function readAlone(fleet: Fleet) {
  const found = await findLogs(fleet);
  const share = startShare({ fleet, found, services: [], toMs: Number.POSITIVE_INFINITY });
  await share.read(0);
  const [unit] = share.finish(share.fleetTime.newestMs, share.fleetTime);
  return { ...unit, player: share.players[0], status: unit.view.log, problem: unit.view.problem };
}

/** What a fleet told, a line each: `LM-01 01:00:30 raised lost-prime`; units as in the fleet file. */
export function toldBy(read: FleetRead): string[] {
  return read.units.flatMap((unit) => lines(unit.findings).map((line) => `${unit.id} ${line}`));
}
