import type { Dirent } from "node:fs";
import { readdir, realpath, stat } from "node:fs/promises";
import { join, sep } from "node:path";
import { quoted } from "../fleet/quantity.ts";

export interface Entry {
  /** From the log folder, with `/`. */
  readonly path: string;
  /** Where it lies, links followed. */
  readonly real: string;
}

/** Something under the log folder that is not taken. */
export interface Aside {
  readonly path: string;
  readonly kind: "link" | "unreadable";
  /** A sentence without its full stop. */
  readonly why: string;
}

export interface Walk {
  /** The log folder itself, links followed. */
  readonly root: string;
  readonly entries: readonly Entry[];
  readonly aside: readonly Aside[];
}

function whyAside(path: string, error: unknown): Aside | undefined {
  const { code, message } = error as NodeJS.ErrnoException;
  switch (code) {
    case "ENOENT":
      // A file that goes while the folder is read, or a link to nowhere, is no log.
      return undefined;
    case "ELOOP":
      return { path, kind: "link", why: `${quoted(path)} is a link that leads in a circle` };
    case "EACCES":
    case "EPERM":
      return { path, kind: "unreadable", why: `no permission to look into ${quoted(path)}` };
    default:
      return { path, kind: "unreadable", why: `${quoted(path)} cannot be looked into (${code ?? message})` };
  }
}

/**
 * Every file under a folder, by rising path within each folder. A link is followed only where it stays in
 * the folder. A linked folder comes after all that is really there, under the link's name, and links to
 * folders within it are not followed, so that no circle of links has more than one round. Throws what the
 * file system throws where the folder itself cannot be read.
 */
export async function walk(folder: string): Promise<Walk> {
  const root = await realpath(folder);
  const within = (path: string, parent: string): boolean =>
    path.startsWith(parent.endsWith(sep) ? parent : parent + sep);
  const entries: Entry[] = [];
  const aside: Aside[] = [];
  const linkedFolders: Entry[] = [];

  async function visit(real: string, path: string, byLink: boolean): Promise<void> {
    const children = await readdir(real, { withFileTypes: true });
    children.sort((a, b) => (a.name < b.name ? -1 : 1));
    for (const child of children) {
      if (child.name.startsWith(".")) continue;
      const childPath = path === "" ? child.name : `${path}/${child.name}`;
      await orAside(childPath, () => take(child, join(real, child.name), childPath, byLink));
    }
  }

  async function orAside(path: string, doing: () => Promise<void>): Promise<void> {
    try {
      await doing();
    } catch (error) {
      const why = whyAside(path, error);
      if (why !== undefined) aside.push(why);
    }
  }

  async function take(child: Dirent, at: string, path: string, byLink: boolean): Promise<void> {
    if (!child.isSymbolicLink()) {
      if (child.isDirectory()) await visit(at, path, byLink);
      else entries.push({ path, real: at });
      return;
    }
    const real = await realpath(at);
    if (real !== root && !within(real, root)) {
      aside.push({
        path,
        kind: "link",
        why: `${quoted(path)} is a link that leads out of the log folder, and is not followed`,
      });
    } else if (!(await stat(real)).isDirectory()) entries.push({ path, real });
    else if (!byLink && !within(at, real)) linkedFolders.push({ path, real });
  }

  await visit(root, "", false);
  for (const { real, path } of linkedFolders) await orAside(path, () => visit(real, path, true));
  return { root, entries, aside };
}
