import { execFileSync } from "node:child_process";
import { accessSync, chmodSync, constants, existsSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { networkFileSystemOf } from "../acquire/network.ts";
import { visible } from "../terms/text.ts";
import { makeFolders } from "./make-folders.ts";
import type { Outcome } from "./outcome.ts";

/** A folder that can hold a fleet's state. */
export interface StateFolder {
  readonly path: string;
  /** Mode of the files in it: 0600, or 0660 where a group shares them. */
  readonly fileMode: number;
}

export interface FolderOptions {
  /** The group whose members may all read the state and add their words to it. */
  readonly group?: string;
  /** Names the network file system that a folder lies on. */
  readonly networkOf?: (folder: string) => Promise<string | undefined>;
}

/** The files that a state folder may hold; SQLite gives the last two the mode of main.db. */
const files = ["lock.db", "main.db", "main.db-wal", "main.db-shm"];

const elsewhere = "set another folder as `state` in the fleet file, or with --state";

const whys: Readonly<Record<string, string>> = {
  EACCES: "no permission to make it",
  EPERM: "no permission to make it",
  ENOENT: "nothing can be made there",
  EEXIST: "a part of this path is a file, not a folder",
  ENOTDIR: "a part of this path is a file, not a folder",
  ENOSPC: "no space is left",
  EROFS: "what holds it can only be read",
};

/**
 * The state folder at an absolute path, made where it is missing: mode 0700, or 2770 where a group shares it.
 * The problem names what to do where it lies on a network file system, on which locks and shared memory of a
 * database do not hold (https://www.sqlite.org/wal.html, 1 Overview), or where it cannot be written.
 */
export async function openStateFolder(
  path: string,
  { group, networkOf = networkFileSystemOf }: FolderOptions = {},
): Promise<Outcome<StateFolder>> {
  const named = visible(path);
  const network = await networkOf(nearestThere(path));
  if (network !== undefined) {
    return {
      problem: `${named}: it lies on a network file system (${network}), where a state cannot be kept safely; ${elsewhere}, on a disk of this computer`,
    };
  }
  try {
    makeFolders(dirname(path), group === undefined ? 0o700 : 0o755);
    makeFolders(path, 0o700);
  } catch (error) {
    const { code = "", message } = error as NodeJS.ErrnoException;
    const why = existsSync(path) ? "it is a file, not a folder" : (whys[code] ?? message);
    return { problem: `${named}: ${visible(why)}; ${elsewhere}` };
  }
  if (group !== undefined && statSync(path).uid === process.getuid?.()) {
    const refused = share(path, group);
    if (refused !== undefined) {
      return {
        problem: `${named}: it cannot be shared with the group ${visible(group)} (${visible(refused)}); write a group that you are a member of as \`state_group\``,
      };
    }
  }
  try {
    accessSync(path, constants.R_OK | constants.W_OK | constants.X_OK);
  } catch {
    return {
      problem: `${named}: the user that runs tarnwatch cannot write in it; give this user the right to, or ${elsewhere}`,
    };
  }
  return { value: { path, fileMode: group === undefined ? 0o600 : 0o660 } };
}

/** The path itself, or the nearest folder above it that is there. */
function nearestThere(path: string): string {
  const above = dirname(path);
  return existsSync(path) || above === path ? path : nearestThere(above);
}

/** Gives the folder and what it holds to a group; why not, where that is refused. */
function share(path: string, group: string): string | undefined {
  const held = files.map((file) => join(path, file)).filter((file) => existsSync(file));
  try {
    // Node has no way to find a group by its name; POSIX has this one on every system.
    execFileSync("chgrp", ["--", group, path, ...held], { stdio: ["ignore", "ignore", "pipe"] });
    chmodSync(path, 0o2770);
    for (const file of held) chmodSync(file, 0o660);
    return undefined;
  } catch (error) {
    const { stderr, message } = error as { stderr?: Buffer; message: string };
    return stderr?.toString().trim().split("\n").at(-1) || message;
  }
}

/** Gives a file in a state folder its mode, where it is one's own. Never opens it: that would drop its locks. */
export function keepMode(path: string, mode: number): void {
  const { mode: now, uid } = statSync(path);
  if ((now & 0o777) !== mode && uid === process.getuid?.()) chmodSync(path, mode);
}
