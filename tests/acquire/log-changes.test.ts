import { execFileSync } from "node:child_process";
import {
  appendFileSync,
  mkdirSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { findLogs } from "../../src/acquire/find.ts";
import { openUnitLog, type UnitLog, type UnitLogState } from "../../src/acquire/unit-log.ts";
import { throughText } from "../support/through-text.ts";
import {
  currents,
  header,
  logFolder,
  openLog,
  readAll,
  rowsOf,
  startOf,
  unitWith,
  write,
} from "./workbench.ts";

const seconds = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, i) => from + i);
const log = (from: number, to: number): string => `${header}\n${rowsOf(from, to)}`;
/** What a restarted program finds of its state. */
const saved = (unit: UnitLog): UnitLogState => throughText(unit.save());
const everyOnce = (rows: number) => ({ rows, repeats: 0, late: 0, rejected: 0, problem: null });

describe("how a log changes, going on", () => {
  it("append of half a character: the header and a cell in UTF-8 are read whole", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", "");
    const unit = openLog(folder, { columns: { channels: { motor_current: [{ column: "Stromstärke ½" }] } } });
    unit.setFiles([path]);
    const bytes = Buffer.from(
      `time,Stromstärke ½,Teich\n${startOf(0)},9,Mühlweiher 🐟\n${startOf(1)},8,Größe\n`,
    );
    const seen: unknown[] = [];
    for (const byte of bytes) {
      appendFileSync(path, Buffer.of(byte));
      seen.push(...(await currents(unit)));
    }
    expect(seen).toEqual([9, 8]);
    expect(unit.status()).toMatchObject(everyOnce(2));
  });

  it("a file that appears late", async () => {
    const folder = logFolder();
    const path = join(folder, "LM-01.csv");
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual([]);
    writeFileSync(path, log(0, 3));
    expect(await currents(unit)).toEqual([0, 1, 2]);
    expect(unit.status()).toMatchObject(everyOnce(3));
  });

  it("daily files: the old day's last rows come before the new day's, also where both have grown", async () => {
    const folder = logFolder();
    const monday = write(folder, "LM-01-2026-05-04.csv", log(0, 5));
    const unit = openLog(folder);
    unit.setFiles([monday]);
    await currents(unit);
    appendFileSync(monday, rowsOf(5, 8));
    const tuesday = write(folder, "LM-01-2026-05-05.csv", log(8, 10));
    unit.setFiles([monday, tuesday]);
    expect(await currents(unit)).toEqual(seconds(5, 10));
    rmSync(monday);
    appendFileSync(tuesday, rowsOf(10, 11));
    unit.setFiles([tuesday]);
    expect(await currents(unit)).toEqual([10]);
    expect(unit.status()).toMatchObject(everyOnce(11));
  });

  it.each([
    ["is read once its writer completes it there", "6.4,on\n", [3, 4, 5, 6]],
    ["is no row while it stays half, and holds up nothing", "", [4, 5, 6]],
  ])("half a row at the end of a log that was rotated by rename %s", async (_, rest, expected) => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", `${log(0, 3)}${startOf(3)},3,8`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await currents(unit)).toEqual([0, 1, 2]);
    renameSync(path, `${path}.1`);
    write(folder, "LM-01.csv", log(4, 6));
    appendFileSync(`${path}.1`, rest);
    unit.setFiles([path, `${path}.1`]);
    const read = await currents(unit);
    appendFileSync(path, rowsOf(6, 7));
    expect([...read, ...(await currents(unit))]).toEqual(expected);
    expect(unit.status()).toMatchObject(everyOnce(3 + expected.length));
    expect(unit.flush()).toBeUndefined();
    expect(unit.status().rejected).toBe(rest === "" ? 1 : 0);
  });

  it.each([["at once", rowsOf(4, 6)] as const, ["row by row", ""] as const])(
    "the other half of a row at the beginning of the truncated log, read %s: rejected, and the log goes on",
    async (_, rest) => {
      const folder = logFolder();
      const path = write(folder, "LM-01.csv", log(0, 3) + startOf(3));
      const unit = openLog(folder);
      unit.setFiles([path]);
      await currents(unit);
      truncateSync(path);
      write(folder, "LM-01.csv", `,3,86.4,on\n${rest}`);
      const read = await currents(unit);
      if (rest === "") appendFileSync(path, rowsOf(4, 6));
      expect([...read, ...(await currents(unit))]).toEqual([4, 5]);
      expect(unit.status()).toMatchObject({ rows: 5, rejected: 1, problem: null });
    },
  );

  it("a link that is swapped to the next file: the rest is read there, from its beginning", async () => {
    const folder = logFolder();
    const days = [write(folder, "a.dat", log(0, 5)), write(folder, "b.dat", log(5, 8))];
    const link = join(folder, "LM-01.csv");
    symlinkSync(days[0] ?? "", link);
    const unit = openLog(folder);
    unit.setFiles([link]);
    expect(await currents(unit)).toEqual(seconds(0, 5));
    symlinkSync(days[1] ?? "", `${link}.new`);
    renameSync(`${link}.new`, link);
    expect(await currents(unit)).toEqual(seconds(5, 8));
    // Back again: what it holds is known.
    symlinkSync(days[0] ?? "", `${link}.new`);
    renameSync(`${link}.new`, link);
    expect(await currents(unit)).toEqual([]);
    expect(unit.status()).toMatchObject({ rows: 8, rejected: 0, problem: null });
  });

  it("a clock that steps back: what it writes twice is late, counted, and the log goes on", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(0, 60));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await currents(unit);
    appendFileSync(path, rowsOf(40, 50).replaceAll("86.4", "80"));
    expect(await currents(unit)).toEqual([]);
    appendFileSync(path, rowsOf(60, 61));
    expect(await currents(unit)).toEqual([60]);
    expect(unit.status()).toMatchObject({ rows: 61, late: 10, rejected: 0 });
  });

  it("the hour that is missing: its rows are rejected with the reason, those around it are read", async () => {
    const folder = logFolder();
    const rows = ["01:59:50", "02:30:00", "03:00:00"].map((time, i) => `2026-03-08 ${time},${i},1,on\n`);
    const path = write(folder, "LM-01.csv", `${header}\n${rows.join("")}`);
    const unit = openLog(folder, { timezone: "America/Chicago" });
    unit.setFiles([path]);
    // US daylight saving time begins on the second Sunday of March at 2 a.m. (15 U.S.C. 260a).
    expect((await readAll(unit)).map(({ time }) => time)).toEqual([
      "2026-03-08T07:59:50.000Z",
      "2026-03-08T08:00:00.000Z",
    ]);
    expect(unit.status().newestRejected).toMatchObject([
      { line: 3, why: "'2026-03-08 02:30:00' is not a time: clocks in America/Chicago skipped it" },
    ]);
  });
});

describe("how a log changes while the program is down", () => {
  /** Reads a log, lets something happen to it, and reads on in a program that was started again. */
  async function whileDown(first: string, happens: (path: string) => string[]) {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", first);
    const before = openLog(folder);
    before.setFiles([path]);
    await currents(before);
    const state = saved(before);
    const files = happens(path);
    const after = openLog(folder, {}, state);
    after.setFiles(files);
    return { read: await currents(after), status: after.status(), after };
  }

  it("appended", async () => {
    const { read, status } = await whileDown(log(0, 5), (path) => {
      appendFileSync(path, rowsOf(5, 9));
      return [path];
    });
    expect(read).toEqual(seconds(5, 9));
    expect(status).toMatchObject(everyOnce(9));
  });

  it("rotated by rename twice, and written on before each", async () => {
    const { read, status } = await whileDown(log(0, 5), (path) => {
      appendFileSync(path, rowsOf(5, 7));
      renameSync(path, `${path}.2`);
      writeFileSync(`${path}.1`, log(7, 9));
      writeFileSync(path, log(9, 10));
      return [path, `${path}.1`, `${path}.2`];
    });
    expect(read).toEqual(seconds(5, 10));
    expect(status).toMatchObject(everyOnce(10));
  });

  it("rotated by rename, and no new file yet", async () => {
    const { read, status, after } = await whileDown(log(0, 5), (path) => {
      appendFileSync(path, rowsOf(5, 7));
      renameSync(path, `${path}.1`);
      return [`${path}.1`];
    });
    expect(read).toEqual([5, 6]);
    const [old = ""] = status.files;
    const path = old.replace(/\.1$/, "");
    writeFileSync(path, log(7, 8));
    after.setFiles([path, old]);
    expect(await currents(after)).toEqual([7]);
    expect(after.status()).toMatchObject(everyOnce(8));
  });

  it("replaced by a longer copy with the same beginning", async () => {
    const { read, status } = await whileDown(log(0, 500), (path) => {
      writeFileSync(`${path}.tmp`, log(0, 505));
      renameSync(`${path}.tmp`, path);
      return [path];
    });
    expect(read).toEqual(seconds(500, 505));
    expect(status).toMatchObject(everyOnce(505));
  });

  it("truncated and started again, longer than before", async () => {
    const { read, status } = await whileDown(log(0, 5), (path) => {
      truncateSync(path, 0);
      appendFileSync(path, log(5, 30));
      return [path];
    });
    expect(read).toEqual(seconds(5, 30));
    expect(status).toMatchObject(everyOnce(30));
  });

  it("completed a row that had been written by half", async () => {
    const { read, status } = await whileDown(`${log(0, 2)}${startOf(2)},1`, (path) => {
      appendFileSync(path, "2,86.4,on\n");
      return [path];
    });
    expect(read).toEqual([12]);
    expect(status).toMatchObject(everyOnce(3));
  });

  it("gone, and back with more", async () => {
    const { read, after } = await whileDown(log(0, 5), (path) => {
      rmSync(path);
      return [];
    });
    expect(read).toEqual([]);
    const again = openLog(logFolder(), {}, saved(after));
    const path = write(logFolder(), "LM-01.csv", log(0, 7));
    again.setFiles([path]);
    expect(await currents(again)).toEqual([5, 6]);
  });
});

it("U-1, U-10 and U-100 side by side never mix, in files, folders and rotated ones", async () => {
  const folder = logFolder();
  const ids = ["U-1", "U-10", "U-100"];
  const { fleet } = unitWith(folder, { ids });
  for (const [i, id] of ids.entries()) {
    const row = (second: number) => `${startOf(second)},${i},1,on\n`;
    write(folder, `${id}.csv`, `${header}\n${row(3)}`);
    write(folder, `${id}.csv.1`, `${header}\n${row(2)}`);
    write(folder, `${id}-10.csv`, `${header}\n${row(1)}`);
    mkdirSync(join(folder, id));
    write(join(folder, id), "old.csv", `${header}\n${row(0)}`);
  }
  const { files } = await findLogs(fleet);
  for (const [i, unit] of fleet.units.entries()) {
    const reader = openUnitLog(unit, fleet);
    reader.setFiles(files.get(unit.id) ?? []);
    expect(await currents(reader)).toEqual([i, i, i, i]);
  }
});

describe.skipIf(process.platform === "win32")("what is no file", () => {
  it("a pipe named like a log holds nobody up", async () => {
    const folder = logFolder();
    const pipe = join(folder, "LM-01-a.csv");
    execFileSync("sh", ["-c", `mkfifo "$0"`, pipe]);
    const path = write(folder, "LM-01-b.csv", log(0, 2));
    const unit = openLog(folder);
    unit.setFiles([pipe, path]);
    expect(await currents(unit)).toEqual([0, 1]);
    expect(unit.status().problem).toBe("LM-01-a.csv: it is a pipe or a device, not a log; name a file");
  });
});
