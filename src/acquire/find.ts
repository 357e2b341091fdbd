import { join, relative, sep } from "node:path";
import { quoted } from "../fleet/quantity.ts";
import type { Fleet } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { logPattern, type Ownership, ownershipOf } from "./ownership.ts";
import { type Aside, type Walk, walk } from "./walk.ts";

/** What was found under a fleet's log folder. */
export interface FoundLogs {
  /** Absolute paths of each unit's logs, by rising path; a unit without one has an empty list. */
  readonly files: Map<string, string[]>;
  /** Why a unit's logs cannot be taken, a line a unit. */
  readonly problems: Map<string, string>;
  /** Whose log a file is under another name, a link's: by its real path from the real log folder, with `/`. */
  readonly linked: ReadonlyMap<string, readonly string[]>;
  /** Why the folder cannot be read at all, in one line. */
  readonly folderProblem?: string;
}

function whyNoFolder(folder: string, error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  const at = visible(folder);
  if (code === "ENOENT")
    return `${at}: there is no such log folder; make it, or write its path as logs: in the fleet file`;
  if (code === "ENOTDIR")
    return `${at}: it is not a folder; write the folder that holds the logs as logs: in the fleet file`;
  if (code === "EACCES" || code === "EPERM") {
    return `${at}: no permission to read the log folder; give this user read access`;
  }
  return `${at}: the log folder cannot be read (${code ?? (error as Error).message})`;
}

/** At most so many reasons stand in one line. */
const mostReasons = 3;

/** What was not taken and may be why a unit has no log, as the end of a line. */
function notTaken(id: string, aside: readonly Aside[], owners: Ownership): string {
  const mine = aside.filter(
    ({ path, kind }) =>
      kind === "unreadable" || owners(path).includes(id) || owners(`${path}/.csv`).includes(id),
  );
  const more = mine.length - mostReasons;
  return [...mine.slice(0, mostReasons).map(({ why }) => why), ...(more > 0 ? [`and ${more} more`] : [])]
    .map((why) => `; ${why}`)
    .join("");
}

/**
 * Finds every unit's logs under the fleet's log folder, at any depth. Nothing outside the folder is taken,
 * neither through a link nor a pattern. A file under two names is taken once.
 */
export async function findLogs(fleet: Fleet): Promise<FoundLogs> {
  const files = new Map<string, string[]>(fleet.units.map((unit) => [unit.id, []]));
  const problems = new Map<string, string>();
  const linked = new Map<string, string[]>();
  let found: Walk;
  try {
    found = await walk(fleet.logs);
  } catch (error) {
    return { files, problems, linked, folderProblem: whyNoFolder(fleet.logs, error) };
  }
  const owners = ownershipOf(fleet);
  const taken = new Map<string, Set<string>>();
  for (const { path, real } of found.entries) {
    const ids = owners(path);
    const realPath = relative(found.root, real).split(sep).join("/");
    if (realPath !== path && ids.length > 0) {
      linked.set(realPath, [...(linked.get(realPath) ?? []), ...ids]);
    }
    for (const id of ids) {
      const already = taken.get(id) ?? new Set();
      taken.set(id, already);
      if (!already.has(real)) files.get(id)?.push(join(fleet.logs, path));
      already.add(real);
      const others = ids.filter((other) => other !== id);
      if (others.length > 0 && !problems.has(id)) {
        problems.set(
          id,
          `its log key and that of ${others.map(visible).join(", ")} both take ${quoted(path)}; write log keys that share no file`,
        );
      }
    }
  }
  for (const unit of fleet.units) {
    if (problems.has(unit.id)) {
      files.set(unit.id, []);
      continue;
    }
    if ((files.get(unit.id)?.length ?? 0) > 0) continue;
    const folder = visible(fleet.logs);
    const denied = notTaken(unit.id, found.aside, owners);
    if (unit.log === undefined) {
      problems.set(
        unit.id,
        `no log in ${folder}; name it ${visible(unit.id)}.csv, or write a log key${denied}`,
      );
    } else if (logPattern(unit.log, fleet.logs) === undefined) {
      problems.set(
        unit.id,
        `log: ${quoted(unit.log)} leaves the log folder; write a file, folder or pattern in ${folder}, or a wider folder as logs:`,
      );
    } else problems.set(unit.id, `no file in ${folder} fits log: ${quoted(unit.log)}${denied}`);
  }
  return { files, problems, linked };
}
