import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openDatabase } from "../../src/store/database.ts";
import type { StateFolder } from "../../src/store/folder.ts";
import { tryLock } from "../../src/store/lock.ts";
import { migrations, versionOf } from "../../src/store/migrations.ts";
import { addWord, wordsAfter } from "../../src/store/words.ts";
import { node22 } from "../support/node22.ts";
import { child, database, done, kill, stateFolder } from "./workbench.ts";

const note = (id: string) =>
  ({ id, atMs: 0, unit: "LM-01", alarm: "all", action: "note", by: "Ann" }) as const;
const newer = [...migrations, "CREATE TABLE later (x INTEGER) STRICT"];
const mainOf = ({ path }: StateFolder): string => join(path, "main.db");

/** What a state folder's files hold, as hashes; without those that SQLite's readers make for themselves. */
function bytesOf({ path }: StateFolder): Record<string, string> {
  const files = readdirSync(path)
    .filter((name) => !name.endsWith("-shm"))
    .map((name) => [name, readFileSync(join(path, name))] as const)
    .filter(([, bytes]) => bytes.length > 0);
  return Object.fromEntries(
    files.map(([name, bytes]) => [name, createHash("sha256").update(bytes).digest("hex")]),
  );
}

describe("a database of another version", () => {
  it("is brought up to date with what is in it", async () => {
    const folder = await stateFolder();
    const old = database(folder);
    done(addWord(old, note("1")));
    old.close();
    const db = database(folder, { steps: newer });
    expect(versionOf(db)).toBe(newer.length);
    expect(done(wordsAfter(db, 0))).toMatchObject([{ id: "1" }]);
    expect(db.prepare("SELECT * FROM later").all()).toEqual([]);
  });

  it("is left as it was where a step fails", async () => {
    const folder = await stateFolder();
    database(folder).close();
    const broken = [...migrations, "CREATE TABLE later (x INTEGER); CREATE TABLE words (x INTEGER)"];
    expect(() => openDatabase(folder, { steps: broken })).toThrow("words");
    expect(versionOf(database(folder))).toBe(migrations.length);
  });

  it("is refused where a newer tarnwatch wrote it, and not a byte of it changes", async () => {
    const folder = await stateFolder();
    database(folder, { steps: newer }).close();
    const before = bytesOf(folder);
    expect(openDatabase(folder)).toEqual({
      problem: `${mainOf(folder)}: a newer tarnwatch has written it (version ${newer.length} of the state; this one knows ${migrations.length}), and nothing of it was changed; install that one, or set another folder with --state`,
    });
    const lock = done(tryLock(folder)) ?? undefined;
    expect(openDatabase(folder, { lock }).problem).toContain("a newer tarnwatch");
    lock?.release();
    expect(bytesOf(folder)).toEqual(before);
  });

  it("is refused untouched while a newer tarnwatch is writing it", async () => {
    const folder = await stateFolder();
    const db = database(folder, { steps: newer });
    done(addWord(db, note("1")));
    const before = bytesOf(folder);
    expect(openDatabase(folder).problem).toContain("a newer tarnwatch");
    expect(bytesOf(folder)).toEqual(before);
    expect(before).toHaveProperty(["main.db-wal"]);
  });

  it("is not changed under an older collector that runs", async () => {
    const folder = await stateFolder();
    const lock = done(tryLock(folder));
    const db = database(folder);
    expect(openDatabase(folder, { steps: newer })).toEqual({
      problem: `${mainOf(folder)}: an older tarnwatch has written it, and a collector is running; stop that one and start it anew`,
    });
    expect(versionOf(db)).toBe(migrations.length);
    lock?.release();
    expect(versionOf(database(folder, { steps: newer }))).toBe(newer.length);
  });
});

describe("a database in use", () => {
  it("lets others read while one writes, and has what it committed on the disk", async () => {
    const db = database(await stateFolder());
    expect(db.prepare("PRAGMA journal_mode").get()).toEqual({ journal_mode: "wal" });
    expect(db.prepare("PRAGMA synchronous").get(), "FULL: https://www.sqlite.org/pragma.html").toEqual({
      synchronous: 2,
    });
  });

  it("says in one line who keeps it from being written", async () => {
    const folder = await stateFolder();
    const db = database(folder);
    const other = database(folder);
    db.exec("PRAGMA busy_timeout = 20");
    other.exec("BEGIN IMMEDIATE");
    expect(addWord(db, note("1"))).toEqual({
      problem: `${mainOf(folder)}: another program has kept it locked for too long; close what else has it open`,
    });
    other.exec("ROLLBACK");
    done(addWord(db, note("1")));
  });
});

describe("a damaged database", () => {
  const nowMs = Date.UTC(2026, 4, 4, 3, 12, 20);

  /** A state folder with forty notes, its database damaged. */
  async function damaged(damage: (bytes: Buffer) => Buffer): Promise<{ folder: StateFolder; bad: Buffer }> {
    const folder = await stateFolder();
    const db = database(folder);
    for (let n = 0; n < 40; n++) done(addWord(db, { ...note(String(n)), note: "x".repeat(900) }));
    db.close();
    const bad = damage(readFileSync(mainOf(folder)));
    writeFileSync(mainOf(folder), bad);
    return { folder, bad };
  }

  it.each<[string, (bytes: Buffer) => Buffer]>([
    ["no database at all", () => Buffer.from("time,motor_current_a\n".repeat(500))],
    ["its first page gone", (bytes) => Buffer.concat([Buffer.alloc(4096), bytes.subarray(4096)])],
    ["a page of words gone", (bytes) => Buffer.concat([bytes.subarray(0, -4096), Buffer.alloc(4096, 7)])],
    ["cut short", (bytes) => bytes.subarray(0, 5 * 4096)],
  ])("is set aside whole, and said: %s", async (_how, damage) => {
    const { folder, bad } = await damaged(damage);
    const lock = done(tryLock(folder)) ?? undefined;
    const { db, notice } = done(openDatabase(folder, { lock, nowMs }));
    const aside = `${mainOf(folder)}.corrupt-20260504T031220Z`;
    expect(notice).toBe(
      `${mainOf(folder)}: it was damaged; it is kept as ${aside}, and an empty one was begun`,
    );
    expect(readFileSync(aside).equals(bad)).toBe(true);
    done(addWord(db, note("new")));
    expect(done(wordsAfter(db, 0))).toMatchObject([{ id: "new" }]);
    db.close();
    lock?.release();
  });

  it("takes along the changes that were not yet in it, which are not read into the new one", async () => {
    const { folder } = await damaged(() => Buffer.from("no database".repeat(1000)));
    const wal = Buffer.from("changes".repeat(1000));
    writeFileSync(`${mainOf(folder)}-wal`, wal);
    const { db } = done(openDatabase(folder, { nowMs }));
    expect(done(wordsAfter(db, 0))).toEqual([]);
    db.close();
    expect(readFileSync(`${mainOf(folder)}.corrupt-20260504T031220Z-wal`).equals(wal)).toBe(true);
  });

  it("twice in one second is kept twice", async () => {
    const { folder } = await damaged(() => Buffer.from("no database".repeat(1000)));
    done(openDatabase(folder, { nowMs })).db.close();
    writeFileSync(mainOf(folder), "no database again".repeat(1000));
    done(openDatabase(folder, { nowMs })).db.close();
    expect(readdirSync(folder.path).filter((name) => name.includes("corrupt"))).toHaveLength(2);
  });

  it("is left to the collector while one runs", async () => {
    const { folder, bad } = await damaged(() => Buffer.from("no database".repeat(1000)));
    const collector = await child("lock", folder);
    expect(openDatabase(folder)).toEqual({
      problem: `${mainOf(folder)}: it is damaged, and a collector is running; stop that one and start it anew`,
    });
    expect(readFileSync(mainOf(folder)).equals(bad)).toBe(true);
    await kill(collector);
  });
});

describe("Node's own SQLite", () => {
  const load = `import ${JSON.stringify(new URL("../../src/store/sqlite.ts", import.meta.url).href)}; process.emitWarning("of its own")`;

  it.each([
    ["this Node", () => process.execPath],
    ["Node 22, which calls it experimental", node22],
  ])("loads without a word, and leaves other warnings as they are: %s", (_name, find) => {
    const node = find();
    if (node === undefined) return;
    const { stderr } = spawnSync(node, ["--input-type=module", "-e", load], { encoding: "utf8" });
    expect(stderr).not.toContain("SQLite");
    expect(stderr).toContain("of its own");
  });
});
