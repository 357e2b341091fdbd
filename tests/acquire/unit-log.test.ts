import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  renameSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { dirname } from "node:path";
import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { batchRows } from "../../src/acquire/intake.ts";
import { throughText } from "../support/through-text.ts";
import {
  currents,
  header,
  logFolder,
  openLog,
  readAll,
  readingsOf,
  rowsOf,
  startOf,
  write,
} from "./workbench.ts";

const seconds = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, i) => from + i);
const log = (from: number, to: number): string => `${header}\n${rowsOf(from, to)}`;

describe("how a log changes", () => {
  it("append: only what is new is read, however the writer cuts it", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", "");
    const unit = openLog(folder);
    unit.setFiles([path]);
    const bytes = Buffer.from(log(0, 20));
    const seen: unknown[] = [];
    for (let at = 0; at < bytes.length; at += 37) {
      appendFileSync(path, bytes.subarray(at, at + 37));
      seen.push(...(await currents(unit)));
    }
    expect(seen).toEqual(seconds(0, 20));
    expect(unit.status()).toMatchObject({ rows: 20, rejected: 0, repeats: 0, late: 0, problem: null });
  });

  it("a writer that pauses in the middle of a row is never misread", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", `${log(0, 1)}${startOf(1)},1`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual([0]);
    appendFileSync(path, "2,86.4,on");
    expect(await currents(unit)).toEqual([]);
    appendFileSync(path, "\n");
    expect(await currents(unit)).toEqual([12]);
    expect(unit.status().rejected).toBe(0);
  });

  it("no line end at the end: the last row comes with flush, once", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 3).trimEnd());
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual([0, 1]);
    expect(readingsOf(unit.flush()).map((r) => r.motor_current)).toEqual([2]);
    expect(unit.flush()).toBeUndefined();
    appendFileSync(path, `\r\n${rowsOf(3, 4)}`);
    expect(await currents(unit)).toEqual([3]);
    expect(unit.status()).toMatchObject({ rows: 4, repeats: 0, rejected: 0 });
  });

  it("a last row that was read too early stays, and what it became is shown as rejected", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", `${header}\n${startOf(0)},9,8,off`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    expect(unit.flush()?.rows).toBe(1);
    truncateSync(path, header.length + 1);
    appendFileSync(path, `${startOf(0)},9,86,off\n`);
    expect(await currents(unit)).toEqual([]);
    expect(unit.status().newestRejected).toMatchObject([
      { line: 2, why: "same time as an earlier row, other values" },
    ]);
  });

  it("rotate by rename: what was written before the rename is read from the old file, then the new one", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 5));
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual(seconds(0, 5));
    appendFileSync(path, rowsOf(5, 8));
    renameSync(path, `${path}.1`);
    writeFileSync(path, log(8, 10));
    unit.setFiles([path, `${path}.1`]);
    expect(await currents(unit)).toEqual(seconds(5, 10));
    renameSync(`${path}.1`, `${path}.2`);
    renameSync(path, `${path}.1`);
    writeFileSync(path, log(10, 12));
    unit.setFiles([path, `${path}.1`, `${path}.2`]);
    expect(await currents(unit)).toEqual([10, 11]);
    expect(unit.status()).toMatchObject({ rows: 12, repeats: 0, late: 0, rejected: 0 });
  });

  it("rotate by rename, the old file not looked at before the new one is there", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 5));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    renameSync(path, `${path}.1`);
    expect(await currents(unit)).toEqual([]);
    writeFileSync(path, log(5, 7));
    unit.setFiles([path, `${path}.1`]);
    expect(await currents(unit)).toEqual([5, 6]);
    expect(unit.status()).toMatchObject({ repeats: 0, late: 0 });
  });

  it("rotate and compress: the same content as .csv.gz is not read again, beside the .csv or in its place", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 300));
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toHaveLength(300);
    appendFileSync(path, rowsOf(300, 310));
    write(folder, "LM-01.csv.gz", gzipSync(log(0, 310)));
    unit.setFiles([path, `${path}.gz`]);
    expect(await currents(unit)).toEqual(seconds(300, 310));
    rmSync(path);
    unit.setFiles([`${path}.gz`]);
    expect(await currents(unit)).toEqual([]);
    expect(unit.status()).toMatchObject({ rows: 310, late: 0, rejected: 0 });
  });

  it("a .csv and its .csv.gz found together give each row once", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 100));
    write(folder, "LM-01.csv.gz", gzipSync(log(0, 100)));
    const unit = openLog(folder);
    unit.setFiles([path, `${path}.gz`]);
    expect(await currents(unit)).toEqual(seconds(0, 100));
    expect(unit.status()).toMatchObject({ rows: 100, repeats: 100, late: 0 });
  });

  it("a .csv.gz that is still being written is read as far as it goes, and on when it is complete", async () => {
    const folder = logFolder();
    const whole = gzipSync(log(0, 3000));
    const path = write(folder, "LM-01.csv.gz", whole.subarray(0, whole.length / 2));
    const unit = openLog(folder);
    unit.setFiles([path]);
    const first = await currents(unit);
    expect(first.length).toBeGreaterThan(0);
    expect(unit.status().problem).toBeNull();
    writeFileSync(path, whole);
    expect([...first, ...(await currents(unit))]).toEqual(seconds(0, 3000));
    expect(unit.status()).toMatchObject({ rows: 3000, repeats: 0 });
  });

  it("truncate and start again: the new content is read from its beginning", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 50));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    truncateSync(path, 0);
    expect(await currents(unit)).toEqual([]);
    appendFileSync(path, `${header}\n`);
    expect(await currents(unit)).toEqual([]);
    appendFileSync(path, rowsOf(50, 52));
    expect(await currents(unit)).toEqual([50, 51]);
    expect(unit.status()).toMatchObject({ rows: 52, repeats: 0, late: 0 });
  });

  it("truncate and start again, grown past the old length before it is looked at", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 5));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    truncateSync(path, 0);
    appendFileSync(path, log(5, 20));
    expect(await currents(unit)).toEqual(seconds(5, 20));
  });

  it("truncate and go on without a header, as a logger does that writes its header once", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 50));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    truncateSync(path, 0);
    appendFileSync(path, rowsOf(50, 52));
    expect(await currents(unit)).toEqual([50, 51]);
    appendFileSync(path, rowsOf(52, 53));
    expect(await currents(unit)).toEqual([52]);
    expect(unit.status()).toMatchObject({ rows: 53, rejected: 0, problem: null });
  });

  it("rotate by rename and go on without a header: the same readings live and when read again", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 5));
    const live = openLog(folder);
    live.setFiles([path]);
    await currents(live);
    renameSync(path, `${path}.1`);
    writeFileSync(path, rowsOf(5, 7));
    live.setFiles([path, `${path}.1`]);
    expect(await currents(live)).toEqual([5, 6]);
    const again = openLog(folder);
    again.setFiles([path, `${path}.1`]);
    expect(await currents(again)).toEqual(seconds(0, 7));
    expect(again.status()).toMatchObject({ rows: 7, rejected: 0, problem: null });
  });

  it("atomic replacement by a longer copy with the same beginning: reading goes on", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 500));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    write(folder, "new.tmp", log(0, 505));
    renameSync(`${folder}/new.tmp`, path);
    expect(await currents(unit)).toEqual(seconds(500, 505));
    expect(unit.status()).toMatchObject({ repeats: 0, late: 0 });
  });

  it("a copy that is being written over the log again, still shorter, is waited for", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 500));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    const copy = log(0, 505);
    for (const length of [0, 60, 3000, 10_000, copy.length]) {
      writeFileSync(path, copy.slice(0, length));
      expect(await currents(unit)).toEqual(length === copy.length ? seconds(500, 505) : []);
    }
    expect(unit.status()).toMatchObject({ rows: 505, repeats: 0, late: 0 });
  });

  it("replacement by another log: all of it is read", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 5));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    write(folder, "new.tmp", log(20, 40));
    renameSync(`${folder}/new.tmp`, path);
    expect(await currents(unit)).toEqual(seconds(20, 40));
  });

  it("replacement by another log of the same long beginning: all of it is read", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 500));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    write(folder, "new.tmp", log(0, 200) + rowsOf(600, 1200));
    renameSync(`${folder}/new.tmp`, path);
    expect(await currents(unit)).toEqual(seconds(600, 1200));
    expect(unit.status()).toMatchObject({ late: 200, rejected: 0 });
  });

  it("a log that vanishes and comes back is read on", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 5));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    rmSync(path);
    expect(await currents(unit)).toEqual([]);
    expect(unit.status().files).toEqual([]);
    writeFileSync(path, log(0, 7));
    expect(await currents(unit)).toEqual([5, 6]);
    expect(unit.status()).toMatchObject({ rows: 7, repeats: 0, late: 0, problem: null });
  });

  it("whole files delivered late: rows older than the newest are handed out apart", async () => {
    const folder = logFolder();
    const second = write(folder, "LM-01-b.csv", log(10, 20));
    const unit = openLog(folder);
    unit.setFiles([second]);
    await currents(unit);
    const first = write(folder, "LM-01-a.csv", log(0, 10));
    unit.setFiles([first, second]);
    const late: unknown[] = [];
    for await (const batch of unit.read()) {
      expect(batch.rows).toBe(0);
      late.push(...readingsOf(unit.takeLate()).map((r) => r.motor_current));
    }
    expect(late).toEqual(seconds(0, 10));
    expect(unit.takeLate()).toBeUndefined();
    expect(unit.status()).toMatchObject({ rows: 10, late: 10 });
  });
});

describe("a backlog of several files", () => {
  it("is merged by reading time, whatever the names", async () => {
    const folder = logFolder();
    const files = [4, 2, 0, 3, 1, 6, 5].map((n) =>
      write(folder, `LM-01-${9 - n}.csv`, log(n * 500, n * 500 + 500)),
    );
    const unit = openLog(folder);
    unit.setFiles(files);
    expect(await currents(unit)).toEqual(seconds(0, 3500));
    expect(unit.status()).toMatchObject({ rows: 3500, late: 0 });
  });

  it("joins channels that came in another file at the same time", async () => {
    const folder = logFolder();
    const one = write(folder, "LM-01-a.csv", `time,motor_current_a\n${startOf(0)},9\n${startOf(1)},8\n`);
    const two = write(folder, "LM-01-b.csv", `time;ozone\n${startOf(0)};on\n${startOf(1)};off\n`);
    const unit = openLog(folder);
    unit.setFiles([one, two]);
    expect((await readAll(unit)).map(({ motor_current, ozone }) => [motor_current, ozone])).toEqual([
      [9, undefined],
      [9, 1],
      [8, undefined],
      [8, 0],
    ]);
    expect(unit.status()).toMatchObject({ rows: 2, joined: 2, channels: ["motor_current", "ozone"] });
  });

  it("lets the first file's row stay where two have one time and other values", async () => {
    const folder = logFolder();
    const one = write(folder, "LM-01-a.csv", `time,motor_current_a\n${startOf(0)},9\n`);
    const two = write(folder, "LM-01-b.csv", `time,motor_current_a\n${startOf(0)},8\n`);
    const unit = openLog(folder);
    unit.setFiles([one, two]);
    expect(await currents(unit)).toEqual([9]);
    expect(unit.status().newestRejected).toEqual([
      { file: two, line: 2, why: "same time as an earlier row, other values" },
    ]);
  });

  it("comes in batches of at most 4,096 rows", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 10_000));
    const unit = openLog(folder);
    unit.setFiles([path]);
    const sizes: number[] = [];
    for await (const batch of unit.read()) sizes.push(batch.rows);
    expect(Math.max(...sizes)).toBe(batchRows);
    expect(sizes.reduce((sum, rows) => sum + rows, 0)).toBe(10_000);
  });

  it("stays in order over order_within, and flush releases the rest", async () => {
    const folder = logFolder();
    const path = write(
      folder,
      "LM-01.csv",
      `${header}\n${rowsOf(1, 2)}${rowsOf(0, 1)}${rowsOf(3, 4)}${rowsOf(2, 3)}`,
    );
    const unit = openLog(folder, { orderWithinMs: 2000 });
    unit.setFiles([path]);
    const before = await currents(unit);
    const after = readingsOf(unit.flush()).map((r) => r.motor_current);
    expect(before).toEqual([0, 1]);
    expect(after).toEqual([2, 3]);
    expect(unit.status()).toMatchObject({ rows: 4, late: 0 });
  });
});

describe("what cannot be read", () => {
  it("an unreadable file is a problem line and does not stop the others; it is tried again", async () => {
    const folder = logFolder();
    const good = write(folder, "LM-01-a.csv", log(0, 3));
    const bad = `${folder}/LM-01-b.csv`;
    mkdirSync(bad);
    const unit = openLog(folder);
    unit.setFiles([bad, good]);
    expect(await currents(unit)).toEqual([0, 1, 2]);
    expect(unit.status()).toMatchObject({
      problem: "LM-01-b.csv: it is a folder, not a log; name a file",
      readable: true,
    });
    rmSync(bad, { recursive: true });
    writeFileSync(bad, log(3, 5));
    expect(await currents(unit)).toEqual([3, 4]);
    expect(unit.status().problem).toBeNull();
  });

  it.skipIf(process.getuid?.() === 0)(
    "no permission is said plainly, and gone once it is given",
    async () => {
      const folder = logFolder();
      const path = write(folder, "LM-01.csv", log(0, 2));
      chmodSync(path, 0);
      const unit = openLog(folder);
      unit.setFiles([path]);
      expect(await currents(unit)).toEqual([]);
      expect(unit.status().problem).toBe("LM-01.csv: no permission to read it; give this user read access");
      chmodSync(path, 0o600);
      expect(await currents(unit)).toEqual([0, 1]);
    },
  );

  it("a broken .csv.gz is a problem line", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv.gz", "this is no gzip at all");
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual([]);
    expect(unit.status().problem).toContain("LM-01.csv.gz: it cannot be decompressed");
  });

  it("a stray quote costs a live log one row, at once", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", `${log(0, 1)}${startOf(1)},"1,86.4,on\n${rowsOf(2, 4)}`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual([0, 2, 3]);
    expect(unit.status().newestRejected).toMatchObject([
      { line: 3, why: "a quote is opened and not closed" },
    ]);
  });

  it("an empty log waits and says so", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", "");
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    expect(unit.status()).toMatchObject({
      problem: "LM-01.csv: empty so far; waiting for its first line",
      readable: false,
    });
  });

  it("a log of a header alone waits and says so, until its first row", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", `${header}\n`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    expect(unit.status()).toMatchObject({
      problem: "LM-01.csv: no row so far; waiting for its first reading",
      readable: true,
    });
    appendFileSync(path, rowsOf(0, 1));
    await currents(unit);
    expect(unit.status().problem).toBeNull();
  });

  it("a log of which no row can be read says why", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", `${header}\nyesterday,1,2,on\n`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    expect(unit.status().problem).toBe(
      "LM-01.csv: none of its 1 rows can be read; line 2: 'yesterday' is not a time in a form that is read; the log must say 2026-05-04T03:12:20Z or 2026-05-04 03:12:20",
    );
  });

  it("a log without a time column is a problem until it is replaced", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", "a,b\n1,2\n");
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    expect(unit.status().problem).toContain("LM-01.csv: no time column in its header 'a,b'");
    writeFileSync(path, log(0, 2));
    expect(await currents(unit)).toEqual([0, 1]);
    expect(unit.status()).toMatchObject({ problem: null, readable: true });
  });

  it("keeps the newest 100 rejected rows with file, line and reason, and counts them all", async () => {
    const folder = logFolder();
    const bad = Array.from({ length: 150 }, (_, i) => `${startOf(i)},x${i},1,on\n`).join("");
    const path = write(folder, "LM-01.csv", `${header}\n${bad}${rowsOf(150, 151)}`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual([150]);
    const { rejected, newestRejected } = unit.status();
    expect(rejected).toBe(150);
    expect(newestRejected).toHaveLength(100);
    expect(newestRejected[0]).toEqual({
      file: path,
      line: 151,
      why: "'motor_current_a': 'x149' is not a number",
    });
  });
});

describe("a checkpoint", () => {
  it("at any batch: what was killed and started again reads every row once", async () => {
    const folder = logFolder();
    const bad = `${startOf(5000)},oops,1,on\n`;
    const files = [
      write(folder, "LM-01-a.csv", log(0, 5000) + bad + rowsOf(5001, 7000)),
      write(folder, "LM-01-b.csv", log(3000, 9000)),
    ];
    const whole = openLog(folder);
    whole.setFiles(files);
    const expected = await readAll(whole);
    const { rejected, repeats, rows, late } = whole.status();
    for (let killAfter = 1; killAfter <= 3; killAfter++) {
      const first = openLog(folder);
      first.setFiles(files);
      const seen: unknown[] = [];
      let saved = first.save();
      let batches = 0;
      for await (const batch of first.read()) {
        seen.push(...readingsOf(batch));
        saved = throughText(first.save());
        if (++batches === killAfter) break;
      }
      const second = openLog(folder, {}, saved);
      second.setFiles(files);
      seen.push(...(await readAll(second)));
      expect(seen).toEqual(expected);
      expect(second.status()).toMatchObject({ rejected, repeats, rows, late });
    }
  });

  /** A log of few rows beside one of many: at the first batch its first block is in the middle. */
  async function besideAnother(folder: string, from: number) {
    const halves = Array.from({ length: 60 }, (_, i) => startOf(from + i * 100).replace("Z", ".500Z"));
    const files = [
      write(folder, "LM-01-a.csv", log(0, 5000)),
      write(folder, "LM-01-b.csv", `${header}\n${halves.map((time, i) => `${time},${-i},1,on\n`).join("")}`),
    ];
    const unit = openLog(folder);
    unit.setFiles(files);
    return { files, unit };
  }

  it("in the first block of a log: no row of it is read twice", async () => {
    const { files, unit } = await besideAnother(logFolder(), 0);
    const seen: unknown[] = [];
    let saved = unit.save();
    for await (const batch of unit.read()) {
      seen.push(...readingsOf(batch));
      saved = throughText(unit.save());
      break;
    }
    const second = openLog(dirname(files[0] ?? ""), {}, saved);
    second.setFiles(files);
    seen.push(...(await readAll(second)));
    expect(seen).toHaveLength(5060);
    expect(second.status()).toMatchObject({ rows: 5060, repeats: 0, late: 0 });
  });

  it("in the first block of a log that was replaced meanwhile: all of the new one is read", async () => {
    const folder = logFolder();
    const { files, unit } = await besideAnother(folder, 0);
    let saved = unit.save();
    for await (const _ of unit.read()) {
      saved = throughText(unit.save());
      break;
    }
    await besideAnother(folder, 10_000);
    const second = openLog(folder, {}, saved);
    second.setFiles(files);
    const read = await currents(second);
    expect(read.filter((current) => Number(current) <= 0)).toHaveLength(60);
  });

  it("knows a log again that was rotated and compressed while it was away", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 400));
    const first = openLog(folder);
    first.setFiles([path]);
    await currents(first);
    const saved = throughText(first.save());
    write(folder, "LM-01.csv.1.gz", gzipSync(log(0, 405)));
    writeFileSync(path, log(405, 410));
    const second = openLog(folder, {}, saved);
    second.setFiles([path, `${path}.1.gz`]);
    expect(await currents(second)).toEqual(seconds(400, 410));
    expect(second.status()).toMatchObject({ rows: 410, late: 0, repeats: 0 });
  });
});

describe("any split of what is written into reads", () => {
  it("gives the same readings and counts", async () => {
    const bytes = Buffer.from(
      `${log(0, 20)}${rowsOf(19, 20)}${rowsOf(7, 8)}${startOf(19)},99,86.4,on\nnonsense\n${rowsOf(20, 30)}`,
    );
    const folder = logFolder();
    const path = write(folder, "whole.csv", bytes);
    const whole = openLog(folder);
    whole.setFiles([path]);
    const expected = await readAll(whole);
    const { bytesRead: _, files: __, newestRejected, ...counts } = whole.status();
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.integer({ min: 0, max: bytes.length }), { maxLength: 6 }),
        async (cuts) => {
          const grown = write(folder, "LM-01.csv", "");
          const unit = openLog(folder);
          unit.setFiles([grown]);
          const seen: unknown[] = [];
          const places = [0, ...cuts.sort((a, b) => a - b), bytes.length];
          for (let i = 1; i < places.length; i++) {
            appendFileSync(grown, bytes.subarray(places[i - 1], places[i]));
            seen.push(...(await readAll(unit)));
          }
          expect(seen).toEqual(expected);
          expect(unit.status()).toMatchObject(counts);
          expect(unit.status().newestRejected.map((r) => [r.line, r.why])).toEqual(
            newestRejected.map((r) => [r.line, r.why]),
          );
        },
      ),
      { numRuns: 40 },
    );
  });
});
