import { readFile } from "node:fs/promises";
import { dirname } from "node:path";
import { ruleSettings } from "../detect/rules.ts";
import { applySetting } from "../fleet/apply-setting.ts";
import { readFleet } from "../fleet/read.ts";
import type { Fleet } from "../fleet/unit.ts";
import { CannotWork, callersPath, fileProblem } from "./context.ts";

/** The fleet a command works on. Throws `CannotWork` with a line for every problem. */
export async function loadFleet(
  path = "fleet.yaml",
  settings: readonly string[] = [],
): Promise<{ fleet: Fleet; path: string }> {
  const absolute = callersPath(path);
  const text = await readFile(absolute, "utf8").catch((error: unknown) => {
    const hint = path === "fleet.yaml" ? "; name a fleet file, or `npm start` shows the demonstration" : "";
    throw new CannotWork(`${fileProblem(path, error)}${hint}`);
  });
  const read = readFleet(text, { path, folder: dirname(absolute) }, ruleSettings);
  if ("problems" in read) throw new CannotWork(...read.problems);
  let { fleet } = read;
  for (const setting of settings) {
    const changed = applySetting(fleet, setting, ruleSettings);
    if ("problem" in changed) throw new CannotWork(changed.problem);
    fleet = changed.fleet;
  }
  return { fleet, path: absolute };
}
