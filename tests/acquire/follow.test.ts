import { EventEmitter } from "node:events";
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type FSWatcher, watch } from "chokidar";
import { describe, expect, it, type TestContext, vi } from "vitest";
import { followLogs, type System } from "../../src/acquire/follow.ts";
import { networkFileSystemOf, networkType } from "../../src/acquire/network.ts";
import { readFleet } from "../../src/fleet/read.ts";
import type { Fleet } from "../../src/fleet/unit.ts";
import { unitWith, write } from "./workbench.ts";

type After = TestContext["onTestFinished"];

/** A folder of the test's own, since others run beside it. */
function folderFor(after: After): string {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-follow-"));
  after(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

async function follow(after: After, folder: string, system?: System, change: Partial<Fleet> = {}) {
  const fleet = { ...unitWith(folder, { ids: ["U-1", "U-2", "U-3"] }).fleet, ...change };
  const told: { ids: string[]; moved: boolean }[] = [];
  const problems: string[] = [];
  const following = await followLogs(
    fleet,
    (ids, moved) => told.push({ ids: [...ids].sort(), moved }),
    (line) => problems.push(line),
    system,
  );
  after(() => following.close());
  /** Waits until something is told, then gives all that was told and forgets it. */
  const next = async (): Promise<{ ids: string[]; moved: boolean }> => {
    await vi.waitFor(() => expect(told.length).toBeGreaterThan(0), { timeout: 30_000, interval: 10 });
    const all = told.splice(0);
    return { ids: [...new Set(all.flatMap((t) => t.ids))].sort(), moved: all.some((t) => t.moved) };
  };
  return { next, told, problems, close: () => following.close() };
}

describe.concurrent("following logs", () => {
  it("tells which unit's log has grown, several together", async ({ onTestFinished }) => {
    const folder = folderFor(onTestFinished);
    const paths = ["U-1.csv", "U-2.csv", "U-3.csv"].map((name) => write(folder, name, "x\n"));
    const { next, told } = await follow(onTestFinished, folder);
    for (const path of paths.slice(0, 2)) for (let i = 0; i < 50; i++) appendFileSync(path, "y\n");
    await vi.waitFor(() => expect(told.length).toBeGreaterThan(0), { timeout: 30_000 });
    expect(told.length).toBeLessThanOrEqual(10);
    expect(await next()).toEqual({ ids: ["U-1", "U-2"], moved: false });
  });

  it("tells that logs came, were renamed and went", async ({ onTestFinished }) => {
    const folder = folderFor(onTestFinished);
    write(folder, "U-1.csv", "x\n");
    const { next } = await follow(onTestFinished, folder);
    write(folder, "U-2.csv", "x\n");
    expect(await next()).toEqual({ ids: ["U-2"], moved: true });
    renameSync(join(folder, "U-1.csv"), join(folder, "U-1.csv.1"));
    expect(await next()).toEqual({ ids: ["U-1"], moved: true });
    rmSync(join(folder, "U-2.csv"));
    expect(await next()).toEqual({ ids: ["U-2"], moved: true });
  });

  it("sees a log in a folder that came after the watching began", async ({ onTestFinished }) => {
    const folder = folderFor(onTestFinished);
    const { next, told } = await follow(onTestFinished, folder);
    mkdirSync(join(folder, "U-3"));
    expect((await next()).moved).toBe(true);
    writeFileSync(join(folder, "U-3", "a.csv"), "x\n");
    await vi.waitFor(() => expect(told.some((t) => t.ids.includes("U-3"))).toBe(true), { timeout: 30_000 });
  });

  it("is silent about files that are no unit's", async ({ onTestFinished }) => {
    const folder = folderFor(onTestFinished);
    write(folder, "U-1.csv", "x\n");
    const { next } = await follow(onTestFinished, folder);
    write(folder, "notes.txt", "x");
    write(folder, "U-9.csv", "x");
    appendFileSync(join(folder, "U-1.csv"), "y\n");
    expect((await next()).ids).toEqual(["U-1"]);
  });
});

describe.concurrent("logs reached by a link", () => {
  it("grow where the link leads", async ({ onTestFinished }) => {
    const folder = folderFor(onTestFinished);
    mkdirSync(join(folder, "store"));
    const real = write(join(folder, "store"), "pump 7.csv", "x\n");
    symlinkSync(real, join(folder, "U-1.csv"));
    const { next } = await follow(onTestFinished, folder);
    // What may have grown before the link was known is read once more.
    await next();
    appendFileSync(real, "y\n");
    expect((await next()).ids).toEqual(["U-1"]);
  });

  it("are found anew when the link is swapped", async ({ onTestFinished }) => {
    const folder = folderFor(onTestFinished);
    mkdirSync(join(folder, "store"));
    const days = ["monday", "tuesday"].map((day) => write(join(folder, "store"), day, "x\n"));
    symlinkSync(days[0] ?? "", join(folder, "U-1.csv"));
    const { next } = await follow(onTestFinished, folder);
    await next();
    symlinkSync(days[1] ?? "", join(folder, ".swap"));
    renameSync(join(folder, ".swap"), join(folder, "U-1.csv"));
    expect(await next()).toEqual({ ids: ["U-1"], moved: true });
    appendFileSync(days[1] ?? "", "y\n");
    expect((await next()).ids).toEqual(["U-1"]);
  });
});

describe.concurrent("where the folder cannot be watched", () => {
  function failing(code: string): System {
    const watchFolder = (): FSWatcher => {
      const watcher = Object.assign(new EventEmitter(), { close: async () => {} });
      setTimeout(() => {
        for (let i = 0; i < 3; i++) watcher.emit("error", Object.assign(new Error(code), { code }));
      }, 1);
      return watcher as unknown as FSWatcher;
    };
    return { watchFolder, networkFileSystemOf: async () => undefined };
  }

  it.for([
    ["ENOSPC", "the system has no more file watches (raise fs.inotify.max_user_watches)"],
    ["EMFILE", "too many open files to watch it (raise ulimit -n or fs.inotify.max_user_instances)"],
  ] as const)(
    "%s: it is looked through every second, and said so once",
    async ([code, why], { onTestFinished }) => {
      const folder = folderFor(onTestFinished);
      write(folder, "U-1.csv", "x\n");
      const { next, problems } = await follow(onTestFinished, folder, failing(code));
      expect(problems).toEqual([`${folder}: ${why}; it is looked through every second instead`]);
      // Once switched over, everything is read again: something may have been missed between.
      expect(await next()).toEqual({ ids: ["U-1", "U-2", "U-3"], moved: true });
      appendFileSync(join(folder, "U-1.csv"), "y\n");
      expect(await next()).toEqual({ ids: ["U-1"], moved: false });
      write(folder, "U-2.csv", "x\n");
      expect(await next()).toEqual({ ids: ["U-2"], moved: true });
    },
  );

  it("a log folder that is not there yet is found when it comes", async ({ onTestFinished }) => {
    const folder = join(folderFor(onTestFinished), "logs");
    const { next, problems } = await follow(onTestFinished, folder);
    expect(problems).toEqual([
      `${folder}: there is no such log folder yet; it is looked through every second instead`,
    ]);
    await next();
    mkdirSync(folder);
    write(folder, "U-1.csv", "x\n");
    expect(await next()).toEqual({ ids: ["U-1"], moved: true });
  });

  /** A system on which some folders lie on a network. */
  function mounted(names: Readonly<Record<string, string>>): System & { watched: string[] } {
    const watched: string[] = [];
    return {
      watched,
      watchFolder: (folder) => {
        watched.push(folder);
        return watch(folder, { ignored: (_, stats) => stats?.isFile() === true, ignoreInitial: true });
      },
      networkFileSystemOf: async (folder) => names[folder],
    };
  }

  it("on a network file system it is looked through, not watched, and said so once", async ({
    onTestFinished,
  }) => {
    const folder = folderFor(onTestFinished);
    const log = write(folder, "U-1.csv", "x\n");
    const system = mounted({ [folder]: "NFS" });
    const { next, problems } = await follow(onTestFinished, folder, system);
    expect(problems).toEqual([
      `${folder}: lies on a network file system (NFS), which does not tell what others change; it is looked through every second instead`,
    ]);
    expect(system.watched).toEqual([]);
    await next();
    appendFileSync(log, "y\n");
    expect(await next()).toEqual({ ids: ["U-1"], moved: false });
    expect(problems).toHaveLength(1);
  });

  it("nor where a folder in it is the mount, at once or later", async ({ onTestFinished }) => {
    const folder = folderFor(onTestFinished);
    mkdirSync(join(folder, "pond 3"));
    const at = await follow(onTestFinished, folder, mounted({ [join(folder, "pond 3")]: "CIFS" }));
    expect(at.problems).toEqual([
      `${folder}: pond 3 lies on a network file system (CIFS), which does not tell what others change; it is looked through every second instead`,
    ]);
    await at.close();
    const later = await follow(onTestFinished, folder, mounted({ [join(folder, "pond 4")]: "9p" }));
    expect(later.problems).toEqual([]);
    mkdirSync(join(folder, "pond 4"));
    await vi.waitFor(() => expect(later.problems).toHaveLength(1), { timeout: 30_000 });
    expect(later.problems[0]).toContain("pond 4 lies on a network file system (9p)");
  });

  it("by setting it is looked through, and growth, renames and what comes late are told", async ({
    onTestFinished,
  }) => {
    const folder = folderFor(onTestFinished);
    const log = write(folder, "U-1.csv", "x\n");
    const system = mounted({});
    const { next, problems } = await follow(onTestFinished, folder, system, { follow: "polling" });
    expect(problems).toEqual([
      `${folder}: the fleet file says follow: polling; it is looked through every second instead`,
    ]);
    expect(system.watched).toEqual([]);
    await next();
    appendFileSync(log, "y\n");
    expect(await next()).toEqual({ ids: ["U-1"], moved: false });
    renameSync(log, `${log}.1`);
    expect(await next()).toEqual({ ids: ["U-1"], moved: true });
    mkdirSync(join(folder, "U-3"));
    write(join(folder, "U-3"), "late.csv", "x\n");
    expect(await next()).toEqual({ ids: ["U-3"], moved: true });
  });
});

describe("network file systems, by the numbers of Linux's include/uapi/linux/magic.h", () => {
  it.each([
    ["NFS_SUPER_MAGIC", 0x6969n, "NFS"],
    ["SMB_SUPER_MAGIC", 0x517bn, "SMB"],
    ["CIFS_SUPER_MAGIC", 0xff534d42n, "CIFS"],
    ["CIFS_SUPER_MAGIC where a C long has 32 bits", -0xacb2ben, "CIFS"],
    ["SMB2_SUPER_MAGIC", 0xfe534d42n, "SMB"],
    ["V9FS_MAGIC", 0x01021997n, "9p"],
    ["FUSE_SUPER_MAGIC", 0x65735546n, "FUSE, such as sshfs"],
    ["CEPH_SUPER_MAGIC", 0x00c36400n, "Ceph"],
    ["AFS_FS_MAGIC", 0x6b414653n, "AFS"],
    ["CODA_SUPER_MAGIC", 0x73757245n, "Coda"],
    ["EXT4_SUPER_MAGIC", 0xef53n, undefined],
    ["XFS_SUPER_MAGIC", 0x58465342n, undefined],
    ["BTRFS_SUPER_MAGIC", 0x9123683en, undefined],
    ["TMPFS_MAGIC", 0x01021994n, undefined],
    ["OVERLAYFS_SUPER_MAGIC", 0x794c7630n, undefined],
  ])("%s", (_, type, name) => {
    expect(networkType(type)).toBe(name);
  });

  it.runIf(existsSync("/dev/shm"))(
    "a folder in memory lies on none, nor does one that is not there",
    async () => {
      expect(await networkFileSystemOf("/dev/shm")).toBeUndefined();
      expect(await networkFileSystemOf("/nowhere/at all")).toBeUndefined();
    },
  );
});

describe("the setting follow: in the fleet file", () => {
  const read = (line: string) =>
    readFleet(`${line}\nunits: [{ id: U }]`, { path: "fleet.yaml", folder: "/ponds" }, {});

  it.each([
    ["", "watching"],
    ["follow: watching", "watching"],
    ["follow: polling", "polling"],
  ])("'%s' is %s", (line, follow) => {
    const found = read(line);
    expect("fleet" in found && found.fleet.follow).toBe(follow);
  });

  it.each([
    ["follow: polled", "fleet.yaml:1:1 follow: 'polled' is not one of watching, polling"],
    ["follow: yes", "fleet.yaml:1:1 follow: 'yes' is not one of watching, polling"],
    ["folow: polling", "fleet.yaml:1:1 folow: this key is not known; the nearest is follow"],
  ])("'%s' is refused with what to write", (line, problem) => {
    const found = read(line);
    expect("problems" in found && found.problems).toEqual([expect.stringContaining(problem)]);
  });
});
