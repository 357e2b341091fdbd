import { hostname } from "node:os";
import { describe, expect, it } from "vitest";
import { lastCollector, signIn, tryLock } from "../../src/store/lock.ts";
import { child, database, done, kill, stateFolder } from "./workbench.ts";

describe("the collector's lock", () => {
  it("is one process's alone, and free again once that was killed", async () => {
    const folder = await stateFolder();
    const collector = await child("lock", folder);
    expect(done(tryLock(folder))).toBeNull();
    await kill(collector);
    expect(done(tryLock(folder))).not.toBeNull();
  });

  it("is not shared within a process, and stays held however often it is asked for", async () => {
    const folder = await stateFolder();
    const lock = done(tryLock(folder));
    expect([done(tryLock(folder)), done(tryLock(folder))]).toEqual([null, null]);
    const other = await child("lock", folder);
    lock?.release();
    expect(done(tryLock(folder)), "the other process was refused").not.toBeNull();
    await kill(other);
  });

  it("can be let go and taken again", async () => {
    const folder = await stateFolder();
    const lock = done(tryLock(folder));
    lock?.release();
    lock?.release();
    const again = done(tryLock(folder));
    expect(again).not.toBeNull();
    again?.release();
  });

  it("outlives the opening and closing of the database beside it", async () => {
    const folder = await stateFolder();
    const lock = done(tryLock(folder)) ?? undefined;
    database(folder, { lock }).close();
    database(folder).close();
    const other = await child("lock", folder);
    await kill(other);
    expect(done(tryLock(folder))).toBeNull();
    lock?.release();
  });

  it("leaves who has it for others to read", async () => {
    const folder = await stateFolder();
    const db = database(folder);
    expect(done(lastCollector(db))).toBeNull();
    done(signIn(db, 1_777_863_600_000));
    done(signIn(db, 1_777_863_700_000));
    expect(done(lastCollector(database(folder)))).toEqual({
      pid: process.pid,
      host: hostname(),
      sinceMs: 1_777_863_700_000,
    });
  });
});
