import type { FoundLogs, findLogs } from "../acquire/find.ts";
import { oneAtATime } from "../acquire/one-at-a-time.ts";
import type { Fleet } from "../fleet/unit.ts";
import type { Following } from "./following.ts";

/** Which logs are whose, as last found. */
export interface FleetFiles {
  /** Looks through the folder, and gives each unit its logs. */
  look(): Promise<void>;
  now(): FoundLogs["files"];
  /** Why a unit's logs cannot be taken; undefined where they can. */
  problem(unit: string): string | undefined;
  /** Why the folder cannot be read at all. */
  folderProblem(): string | undefined;
}

export function startFleetFiles(
  fleet: Fleet,
  units: ReadonlyMap<string, Following>,
  find: typeof findLogs,
): FleetFiles {
  let found: FoundLogs = { files: new Map(), problems: new Map(), linked: new Map() };
  return {
    look: oneAtATime(async () => {
      found = await find(fleet);
      for (const [id, { log }] of units) log.setFiles(found.files.get(id) ?? []);
    }),
    now: () => found.files,
    problem: (unit) => found.folderProblem ?? found.problems.get(unit),
    folderProblem: () => found.folderProblem,
  };
}
