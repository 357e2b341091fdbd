import { createHash } from "node:crypto";
import { homedir } from "node:os";
import { basename, dirname, join } from "node:path";
import type { KeepOptions } from "../collector/keeping.ts";
import type { Fleet } from "../fleet/unit.ts";
import { callersPath } from "./context.ts";

/**
 * The state folder: `--state`, else the fleet file's `state`, else one folder a fleet file under the
 * user's state directory (XDG Base Directory Specification).
 */
export function stateFolder(fleet: Fleet, fleetPath: string, override?: string): string {
  if (override !== undefined) return callersPath(override);
  if (fleet.state !== undefined) return fleet.state;
  const base = process.env.XDG_STATE_HOME || join(homedir(), ".local", "state");
  const short = createHash("sha256").update(fleetPath).digest("hex").slice(0, 8);
  return join(base, "tarnwatch", `${basename(dirname(fleetPath))}-${short}`);
}

/** How a fleet's state is kept in its folder. */
export function keepOptions(fleet: Fleet, folder: string, kind: KeepOptions["kind"]): KeepOptions {
  return { folder, kind, ...(fleet.stateGroup !== undefined && { group: fleet.stateGroup }) };
}
