import type { Dirent } from "node:fs";
import { readdir, realpath, stat } from "node:fs/promises";
import { join, sep } from "node:path";
import { quoted } from "../fleet/quantity.ts";
import type { Fleet } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { logPattern, ownershipOf } from "./ownership.ts";

/** What was found under a fleet's log folder. */
export interface FoundLogs {
  /** Absolute paths of each unit's logs, by rising path; a unit without one has an empty list. */
  readonly files: Map<string, string[]>;
  /** Why a unit's logs cannot be taken, a line a unit. */
  readonly problems: Map<string, string>;
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

interface Entry {
  /** From the log folder, with `/`. */
  readonly path: string;
  readonly real: string;
}

/** Every file under the folder; a link is followed only where it stays in it, and each folder is seen once. */
async function walk(folder: string, unreadable: string[]): Promise<Entry[]> {
  const root = await realpath(folder);
  const inside = (path: string): boolean => path.startsWith(root.endsWith(sep) ? root : root + sep);
  const seen = new Set([root]);
  const entries: Entry[] = [];
  async function visit(real: string, path: string): Promise<void> {
    const children = await readdir(real, { withFileTypes: true });
    children.sort((a, b) => (a.name < b.name ? -1 : 1));
    for (const child of children) {
      if (child.name.startsWith(".")) continue;
      await take(child, join(real, child.name), path === "" ? child.name : `${path}/${child.name}`);
    }
  }
  async function take(child: Dirent, at: string, path: string): Promise<void> {
    try {
      let real = at;
      let isFolder = child.isDirectory();
      if (child.isSymbolicLink()) {
        real = await realpath(at);
        if (!inside(real)) return;
        isFolder = (await stat(real)).isDirectory();
      }
      if (!isFolder) entries.push({ path, real });
      else if (!seen.has(real)) {
        seen.add(real);
        await visit(real, path);
      }
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      // A file that goes while the folder is read, or a link to nowhere, is no log.
      if (code !== "ENOENT") unreadable.push(path);
    }
  }
  await visit(root, "");
  return entries;
}

/**
 * Finds every unit's logs under the fleet's log folder, at any depth. Nothing outside the folder is taken,
 * neither through a link nor a pattern. A file under two names is taken once.
 */
export async function findLogs(fleet: Fleet): Promise<FoundLogs> {
  const files = new Map<string, string[]>(fleet.units.map((unit) => [unit.id, []]));
  const problems = new Map<string, string>();
  const unreadable: string[] = [];
  let entries: Entry[];
  try {
    entries = await walk(fleet.logs, unreadable);
  } catch (error) {
    return { files, problems, folderProblem: whyNoFolder(fleet.logs, error) };
  }
  const owners = ownershipOf(fleet);
  const taken = new Map<string, Set<string>>();
  for (const { path, real } of entries) {
    const ids = owners(path);
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
    const denied =
      unreadable.length === 0 ? "" : `; no permission to look into ${unreadable.map(quoted).join(", ")}`;
    if (unit.log === undefined) {
      problems.set(
        unit.id,
        `no log in ${folder}; name it ${visible(unit.id)}.csv, or write a log key${denied}`,
      );
    } else if (logPattern(unit.log, fleet.logs) === undefined) {
      problems.set(
        unit.id,
        `log: ${quoted(unit.log)} leaves the log folder; write a file, folder or pattern in ${folder}`,
      );
    } else problems.set(unit.id, `no file in ${folder} fits log: ${quoted(unit.log)}${denied}`);
  }
  return { files, problems };
}
