import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { ruleSettings } from "../detect/rules.ts";
import { applySetting } from "../fleet/apply-setting.ts";
import { nearest } from "../fleet/nearest.ts";
import { readFleet } from "../fleet/read.ts";
import type { Fleet, Unit } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { CannotWork, callersPath, commandName, fileProblem } from "./context.ts";

/** The fleet a command works on, with `over` laid over every unit. Throws `CannotWork` with a line for every problem. */
export async function loadFleet(
  path = "fleet.yaml",
  settings: readonly string[] = [],
  over?: unknown,
): Promise<{ fleet: Fleet; path: string }> {
  const absolute = callersPath(path);
  const text = await readFile(absolute, "utf8").catch((error: unknown) => {
    throw new CannotWork(`${fileProblem(path, error)}${hintFor(path, error as NodeJS.ErrnoException)}`);
  });
  const read = readFleet(text, { path, folder: dirname(absolute) }, ruleSettings, over);
  if ("problems" in read) throw new CannotWork(...read.problems);
  let { fleet } = read;
  for (const setting of settings) {
    const changed = applySetting(fleet, setting, ruleSettings);
    if ("problem" in changed) throw new CannotWork(changed.problem);
    fleet = changed.fleet;
  }
  return { fleet, path: absolute };
}

function hintFor(path: string, { code }: NodeJS.ErrnoException): string {
  if (code === "EISDIR") {
    return existsSync(callersPath(join(path, "fleet.yaml")))
      ? `; name ${visible(join(path, "fleet.yaml"))}`
      : `; if it holds logs: ${commandName()} init ${visible(path)} writes a fleet file for them`;
  }
  return path === "fleet.yaml" ? "; name a fleet file, or `npm start` shows the demonstration" : "";
}

/** The unit of a fleet by its id; throws `CannotWork` with the nearest where there is none. */
export function unitIn(fleet: Fleet, id: string): Unit {
  const unit = fleet.units.find((one) => one.id === id);
  if (unit !== undefined) return unit;
  const ids = fleet.units.map((one) => one.id);
  throw new CannotWork(`'${visible(id)}' is no unit of this fleet; the nearest is ${nearest(id, ids)}`);
}
