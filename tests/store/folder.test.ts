import { execFileSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openStateFolder } from "../../src/store/folder.ts";
import { tryLock } from "../../src/store/lock.ts";
import { addWord } from "../../src/store/words.ts";
import { database, done, emptyFolder } from "./workbench.ts";

const modeOf = (path: string): string => (statSync(path).mode & 0o7777).toString(8);

/** The modes of all that a state folder holds while it is used. */
async function modesWith(group?: string): Promise<Record<string, string>> {
  const path = join(emptyFolder(), "new", "state");
  const folder = done(await openStateFolder(path, { group }));
  const lock = done(tryLock(folder));
  const db = database(folder);
  done(
    addWord(db, { id: "1", atMs: 0, unit: "LM-01", alarm: "all", action: "note", by: "Ann", note: "seen" }),
  );
  const names = [".", "lock.db", "main.db", "main.db-wal", "main.db-shm"];
  const modes = Object.fromEntries(names.map((name) => [name, modeOf(join(path, name))]));
  lock?.release();
  return modes;
}

const ownGroup = () => execFileSync("id", ["-gn"], { encoding: "utf8" }).trim();

describe("the state folder", () => {
  it("is for its owner alone", async () => {
    expect(await modesWith()).toEqual({
      ".": "700",
      "lock.db": "600",
      "main.db": "600",
      "main.db-wal": "600",
      "main.db-shm": "600",
    });
  });

  it("is its group's too where the fleet file names one", async () => {
    expect(await modesWith(ownGroup())).toEqual({
      ".": "2770",
      "lock.db": "660",
      "main.db": "660",
      "main.db-wal": "660",
      "main.db-shm": "660",
    });
  });

  it("is shared later with all that it holds", async () => {
    const path = join(emptyFolder(), "state");
    database(done(await openStateFolder(path)));
    done(await openStateFolder(path, { group: ownGroup() }));
    expect([modeOf(path), modeOf(join(path, "main.db"))]).toEqual(["2770", "660"]);
  });

  it("keeps the mode that an administrator gave it", async () => {
    const path = join(emptyFolder(), "state");
    mkdirSync(path);
    chmodSync(path, 0o750);
    done(await openStateFolder(path));
    expect(modeOf(path)).toBe("750");
  });

  it("names a group that there is not", async () => {
    const path = join(emptyFolder(), "state");
    const { problem } = await openStateFolder(path, { group: "no-such-group" });
    expect(problem).toMatch(
      /^\S+state: it cannot be shared with the group no-such-group \(.+\); write a group that you are a member of as `state_group`$/,
    );
  });

  it("is refused on a network file system before anything is made there", async () => {
    const mount = emptyFolder();
    const path = join(mount, "fleet", "state");
    const networkOf = async (folder: string) => (folder === mount ? "NFS" : undefined);
    expect(await openStateFolder(path, { networkOf })).toEqual({
      problem: `${path}: it lies on a network file system (NFS), where a state cannot be kept safely; set another folder as \`state\` in the fleet file, or with --state, on a disk of this computer`,
    });
    expect(existsSync(join(mount, "fleet"))).toBe(false);
  });

  it.each([
    ["file", "it is a file, not a folder"],
    ["file/state", "a part of this path is a file, not a folder"],
  ])("is refused where a file stands in its way: %s", async (name, why) => {
    const folder = emptyFolder();
    writeFileSync(join(folder, "file"), "");
    const path = join(folder, name);
    expect((await openStateFolder(path)).problem).toBe(
      `${path}: ${why}; set another folder as \`state\` in the fleet file, or with --state`,
    );
  });

  it.skipIf(process.getuid?.() === 0)("is refused where this user cannot write", async () => {
    const path = join(emptyFolder(), "state");
    mkdirSync(path, { mode: 0o500 });
    expect((await openStateFolder(path)).problem).toMatch(
      /state: the user that runs tarnwatch cannot write in it; give this user the right to, or set another folder as `state`/,
    );
  });
});
