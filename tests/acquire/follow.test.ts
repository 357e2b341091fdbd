import { EventEmitter } from "node:events";
import { appendFileSync, mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { FSWatcher } from "chokidar";
import { afterEach, describe, expect, it, vi } from "vitest";
import { type Following, followLogs } from "../../src/acquire/follow.ts";
import { logFolder, unitWith, write } from "./workbench.ts";

let following: Following | undefined;
afterEach(async () => {
  await following?.close();
  following = undefined;
});

async function follow(folder: string, watchFolder?: (folder: string) => FSWatcher) {
  const { fleet } = unitWith(folder, { ids: ["U-1", "U-2", "U-3"] });
  const told: { ids: string[]; moved: boolean }[] = [];
  const problems: string[] = [];
  following = await followLogs(
    fleet,
    (ids, moved) => told.push({ ids: [...ids].sort(), moved }),
    (line) => problems.push(line),
    watchFolder,
  );
  /** Waits until something is told, then gives all that was told and forgets it. */
  const next = async (): Promise<{ ids: string[]; moved: boolean }> => {
    await vi.waitFor(() => expect(told.length).toBeGreaterThan(0), { timeout: 5000, interval: 10 });
    const all = told.splice(0);
    return { ids: [...new Set(all.flatMap((t) => t.ids))].sort(), moved: all.some((t) => t.moved) };
  };
  return { next, told, problems };
}

describe("following logs", () => {
  it("tells which unit's log has grown, several together", async () => {
    const folder = logFolder();
    const paths = ["U-1.csv", "U-2.csv", "U-3.csv"].map((name) => write(folder, name, "x\n"));
    const { next, told } = await follow(folder);
    for (const path of paths.slice(0, 2)) for (let i = 0; i < 50; i++) appendFileSync(path, "y\n");
    await vi.waitFor(() => expect(told.length).toBeGreaterThan(0), { timeout: 5000 });
    expect(told.length).toBeLessThanOrEqual(10);
    expect(await next()).toEqual({ ids: ["U-1", "U-2"], moved: false });
  });

  it("tells that logs came, were renamed and went", async () => {
    const folder = logFolder();
    write(folder, "U-1.csv", "x\n");
    const { next } = await follow(folder);
    write(folder, "U-2.csv", "x\n");
    expect(await next()).toEqual({ ids: ["U-2"], moved: true });
    renameSync(join(folder, "U-1.csv"), join(folder, "U-1.csv.1"));
    expect(await next()).toEqual({ ids: ["U-1"], moved: true });
    rmSync(join(folder, "U-2.csv"));
    expect(await next()).toEqual({ ids: ["U-2"], moved: true });
  });

  it("sees a log in a folder that came after the watching began", async () => {
    const folder = logFolder();
    const { next, told } = await follow(folder);
    mkdirSync(join(folder, "U-3"));
    expect((await next()).moved).toBe(true);
    writeFileSync(join(folder, "U-3", "a.csv"), "x\n");
    await vi.waitFor(() => expect(told.some((t) => t.ids.includes("U-3"))).toBe(true), { timeout: 5000 });
  });

  it("is silent about files that are no unit's", async () => {
    const folder = logFolder();
    write(folder, "U-1.csv", "x\n");
    const { next } = await follow(folder);
    write(folder, "notes.txt", "x");
    write(folder, "U-9.csv", "x");
    appendFileSync(join(folder, "U-1.csv"), "y\n");
    expect((await next()).ids).toEqual(["U-1"]);
  });
});

describe("where the folder cannot be watched", () => {
  function failing(code: string): () => FSWatcher {
    return () => {
      const watcher = Object.assign(new EventEmitter(), { close: async () => {} });
      setTimeout(() => {
        for (let i = 0; i < 3; i++) watcher.emit("error", Object.assign(new Error(code), { code }));
      }, 1);
      return watcher as unknown as FSWatcher;
    };
  }

  it.each([
    ["ENOSPC", "the system has no more file watches (raise fs.inotify.max_user_watches)"],
    ["EMFILE", "too many open files to watch it (raise ulimit -n or fs.inotify.max_user_instances)"],
  ])("%s: it is looked through every second, and said so once", async (code, why) => {
    const folder = logFolder();
    write(folder, "U-1.csv", "x\n");
    const { next, problems } = await follow(folder, failing(code));
    expect(problems).toEqual([`${folder}: ${why}; it is looked through every second instead`]);
    // Once switched over, everything is read again: something may have been missed between.
    expect(await next()).toEqual({ ids: ["U-1", "U-2", "U-3"], moved: true });
    appendFileSync(join(folder, "U-1.csv"), "y\n");
    expect(await next()).toEqual({ ids: ["U-1"], moved: false });
    write(folder, "U-2.csv", "x\n");
    expect(await next()).toEqual({ ids: ["U-2"], moved: true });
  });

  it("a log folder that is not there yet is found when it comes", async () => {
    const folder = join(logFolder(), "logs");
    const { next, problems } = await follow(folder);
    expect(problems).toEqual([
      `${folder}: there is no such log folder yet; it is looked through every second instead`,
    ]);
    await next();
    mkdirSync(folder);
    write(folder, "U-1.csv", "x\n");
    expect(await next()).toEqual({ ids: ["U-1"], moved: true });
  });
});
