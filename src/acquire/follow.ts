import { statSync } from "node:fs";
import { realpath } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import { type FSWatcher, watch } from "chokidar";
import type { Fleet } from "../fleet/unit.ts";
import { visible } from "../terms/text.ts";
import { findLogs } from "./find.ts";
import { networkFileSystemOf } from "./network.ts";
import { oneAtATime } from "./one-at-a-time.ts";
import { ownershipOf } from "./ownership.ts";
import { sweepOf } from "./sweep.ts";

/** Changes within this time are told together. */
const togetherMs = 100;
const sweepEveryMs = 1000;

/** `moved`: logs came, went or were renamed, so they must be found again; else they have only grown. */
export type OnChange = (unitIds: ReadonlySet<string>, moved: boolean) => void;

export interface Following {
  close(): Promise<void>;
}

/** What following asks of the system; another in tests. */
export interface System {
  readonly watchFolder: (folder: string) => FSWatcher;
  /** The name of the network file system that a folder lies on. */
  readonly networkFileSystemOf: (folder: string) => Promise<string | undefined>;
}

/**
 * Watches the folders alone, not the files: one watch a folder tells what arrives, moves, vanishes and
 * grows in it, at a seventh of the cost of a watch a file.
 */
function watchFolders(folder: string): FSWatcher {
  return watch(folder, { ignored: (_, stats) => stats?.isFile() === true, ignoreInitial: true });
}

const thisSystem: System = { watchFolder: watchFolders, networkFileSystemOf };

const wasGone = "the log folder was gone for a while";

/** Which folder a path names now; empty where none. */
function idOf(path: string): string {
  try {
    const { dev, ino } = statSync(path);
    return `${dev} ${ino}`;
  } catch {
    return "";
  }
}

/**
 * Tells which units' logs have changed, at most 200 ms after they did, several together. Where the folder
 * cannot be watched (too many watches, too many open files, a network file system, no such folder yet), or
 * the fleet file wants none of it, it is looked through every second instead, and `onProblem` is told so once.
 */
export async function followLogs(
  fleet: Fleet,
  onChange: OnChange,
  onProblem: (line: string) => void,
  system: System = thisSystem,
): Promise<Following> {
  const ownersOf = ownershipOf(fleet);
  const everyone = fleet.units.map((unit) => unit.id);
  let changed = new Set<string>();
  let moved = false;
  let telling: NodeJS.Timeout | undefined;
  let watcher: FSWatcher | undefined;
  let sweeping: NodeJS.Timeout | undefined;
  let lookingAtRoot: NodeJS.Timeout | undefined;
  let closed = false;
  let linked: ReadonlyMap<string, readonly string[]> = new Map();

  /** A log that is reached by a link grows where the link leads, and under that name. */
  const findLinked = oneAtATime(async () => {
    const before = linked;
    linked = (await findLogs(fleet)).linked;
    // Before the link was known here, its log may have grown.
    for (const [path, ids] of linked) if (!before.has(path)) tell(ids, false);
  });

  function tell(ids: Iterable<string>, move: boolean): void {
    for (const id of ids) changed.add(id);
    moved ||= move;
    if (closed || changed.size === 0 || telling !== undefined) return;
    telling = setTimeout(() => {
      const told = changed;
      const toldMoved = moved;
      changed = new Set();
      moved = false;
      telling = undefined;
      if (toldMoved && watcher !== undefined) void findLinked();
      onChange(told, toldMoved);
    }, togetherMs);
  }

  function sweepInstead(why: string): void {
    if (closed || sweeping !== undefined) return;
    clearInterval(lookingAtRoot);
    onProblem(`${visible(fleet.logs)}: ${why}; it is looked through every second instead`);
    void watcher?.close();
    watcher = undefined;
    const sweep = sweepOf(fleet);
    const again = async (): Promise<void> => {
      const found = await sweep.look();
      tell(found.changed, found.moved);
      if (!closed) sweeping = setTimeout(again, sweepEveryMs);
    };
    sweeping = setTimeout(again, 0);
    // Something may have changed between the last watching and the first look.
    tell(everyone, true);
  }

  function whyNot(error: unknown): string {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === "ENOSPC") return "the system has no more file watches (raise fs.inotify.max_user_watches)";
    if (code === "EMFILE")
      return "too many open files to watch it (raise ulimit -n or fs.inotify.max_user_instances)";
    if (code === "ENOENT") return "there is no such log folder yet";
    return `it cannot be watched (${code ?? message})`;
  }

  /** Where one of the folders lies on a network, as a reason; a mount may lie anywhere below. */
  async function whyNetwork(root: string, folders: readonly string[]): Promise<string | undefined> {
    for (const folder of folders) {
      const name = await system.networkFileSystemOf(folder);
      const which = folder === root ? "" : `${visible(relative(root, folder))} `;
      if (name !== undefined)
        return `${which}lies on a network file system (${name}), which does not tell what others change`;
    }
    return undefined;
  }

  async function sweepOnNetwork(root: string, folders: readonly string[]): Promise<boolean> {
    const why = await whyNetwork(root, folders);
    if (why !== undefined) sweepInstead(why);
    return why !== undefined;
  }

  async function start(): Promise<void> {
    if (fleet.follow === "polling") return sweepInstead("the fleet file says follow: polling");
    const root = await realpath(fleet.logs);
    if (await sweepOnNetwork(root, [root])) return;
    const watching = system.watchFolder(root);
    watcher = watching;
    watching.on("raw", (event, path, details) => {
      const folder = (details as { watchedPath?: string }).watchedPath ?? root;
      if (path === null) return tell(everyone, true);
      const from = relative(root, join(folder, path)).split(sep).join("/");
      const owners = ownersOf(from);
      const byLink = linked.get(from);
      tell(byLink === undefined ? owners : [...owners, ...byLink], event === "rename");
    });
    watching.on("addDir", (path) => {
      tell(everyone, true);
      void sweepOnNetwork(root, [path]);
    });
    watching.on("unlinkDir", (path) => {
      if (path === root) sweepInstead(wasGone);
      else tell(everyone, true);
    });
    watching.on("error", (error) => sweepInstead(whyNot(error)));
    await new Promise<void>((resolve) => {
      watching.once("ready", resolve);
      watching.once("error", () => resolve());
    });
    if (watcher === undefined) return;
    // Where it is unmounted or renamed, what is watched is no longer what bears its name, and nothing tells so.
    const watched = idOf(root);
    lookingAtRoot = setInterval(() => {
      if (idOf(root) !== watched) sweepInstead(wasGone);
    }, sweepEveryMs);
    await sweepOnNetwork(root, Object.keys(watching.getWatched()));
    await findLinked();
  }

  try {
    await start();
  } catch (error) {
    sweepInstead(whyNot(error));
  }

  return {
    async close() {
      closed = true;
      clearInterval(lookingAtRoot);
      clearTimeout(telling);
      clearTimeout(sweeping);
      await watcher?.close();
    },
  };
}
