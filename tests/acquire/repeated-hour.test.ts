import { appendFileSync, copyFileSync, renameSync, utimesSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { header, logFolder, openLog, readAll, write } from "./workbench.ts";

/** 1 November 2026, when clocks in Chicago go from 01:59:59 CDT back to 01:00:00 CST at 07:00 UTC. */
const beginMs = Date.parse("2026-11-01T05:30:00Z");
const minutes = 180;

/** What a wall clock in Chicago shows: by the Energy Policy Act of 2005, section 110, clocks go back at 2 a.m. */
function wallTime(minute: number): string {
  const timeMs = beginMs + minute * 60_000;
  const offsetHours = timeMs < Date.parse("2026-11-01T07:00:00Z") ? -5 : -6;
  return new Date(timeMs + offsetHours * 3_600_000).toISOString().slice(0, 19).replace("T", " ");
}

const instant = (minute: number) => new Date(beginMs + minute * 60_000).toISOString();

const row = (minute: number) => `${wallTime(minute)},${minute},86.4,on\n`;

/** Follows a logger through that night; it rotates by rename before `rotation`, reads come before `looks`. */
async function follow(rotation: number, looks: readonly number[], headed: boolean) {
  const folder = logFolder();
  const path = write(folder, "LM-01.csv", `${header}\n`);
  const log = openLog(folder, { timezone: "America/Chicago" });
  log.setFiles([path]);
  const read: (readonly [string, unknown])[] = [];
  const look = async () => {
    for (const reading of await readAll(log)) read.push([reading.time, reading.motor_current]);
  };
  for (let minute = 0; minute < minutes; minute++) {
    if (looks.includes(minute)) await look();
    if (minute === rotation) {
      renameSync(path, join(folder, "LM-01.csv.1"));
      write(folder, "LM-01.csv", headed ? `${header}\n` : "");
      log.setFiles([path, `${path}.1`]);
    }
    appendFileSync(path, row(minute));
  }
  await look();
  return { read, status: log.status() };
}

const expected = Array.from({ length: minutes }, (_, minute) => [instant(minute), minute]);

describe("a log that is rotated by rename in the night in which the clocks go back", () => {
  it("writes the hour from one to two twice", () => {
    expect([29, 30, 89, 90, 149, 150].map(wallTime).map((time) => time.slice(11))).toEqual([
      "00:59:00",
      "01:00:00",
      "01:59:00",
      "01:00:00",
      "01:59:00",
      "02:00:00",
    ]);
  });

  it.each([
    ["in the first pass", 60],
    ["just as the clocks go back", 90],
    ["in the second pass", 110],
  ])("loses no row, and its second pass stays the second: rotated %s", async (_, rotation) => {
    for (const headed of [true, false]) {
      const everyFifth = Array.from({ length: minutes / 5 }, (_, look) => 5 * look);
      const { read, status } = await follow(rotation, everyFifth, headed);
      expect(read).toEqual(expected);
      expect(status).toMatchObject({ rows: minutes, late: 0, rejected: 0, repeats: 0 });
    }
  });

  it("loses none whenever it is rotated and looked at, at least every twenty minutes", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: minutes - 1 }),
        fc.array(fc.integer({ min: 1, max: 20 }), { minLength: minutes, maxLength: minutes }),
        fc.boolean(),
        async (rotation, steps, headed) => {
          const looks: number[] = [];
          for (const step of steps) looks.push((looks.at(-1) ?? 0) + step);
          const { read, status } = await follow(rotation, looks, headed);
          expect(read).toEqual(expected);
          expect(status).toMatchObject({ late: 0, rejected: 0 });
        },
      ),
      { numRuns: 25 },
    );
  });
});

/** Writes a log that was last changed at a minute of that night. */
function leave(folder: string, name: string, text: string | Buffer, minute: number): string {
  const path = write(folder, name, text);
  const changed = new Date(beginMs + minute * 60_000);
  utimesSync(path, changed, changed);
  return path;
}

const rows = (from: number, to: number): string =>
  Array.from({ length: to - from }, (_, i) => row(from + i)).join("");

type Naming = (place: number, last: number) => string;
const namings: readonly (readonly [string, Naming])[] = [
  ["LM-01.csv.1", (place, last) => (place === last ? "LM-01.csv" : `LM-01.csv.${last - place}`)],
  ["LM-01.csv.1.gz", (place, last) => (place === last ? "LM-01.csv" : `LM-01.csv.${last - place}.gz`)],
  ["LM-01-20261101-001.csv", (place) => `LM-01-20261101-${String(place).padStart(3, "0")}.csv`],
];

/** Reads a backlog of that night, rotated before each minute of `cuts`, once from the beginning. */
async function readBacklog(
  cuts: readonly number[],
  naming: Naming,
  headed: boolean,
  { from = 0, changed }: { from?: number; changed?: number } = {},
) {
  const folder = logFolder();
  const bounds = [from, ...cuts, minutes];
  const paths = bounds.slice(1).map((to, place) => {
    const text = `${headed || place === 0 ? `${header}\n` : ""}${rows(bounds[place], to)}`;
    const name = naming(place, cuts.length);
    return leave(folder, name, name.endsWith(".gz") ? gzipSync(text) : text, changed ?? to);
  });
  const log = openLog(folder, { timezone: "America/Chicago" });
  log.setFiles(paths.toSorted());
  const read = (await readAll(log)).map((reading) => [reading.time, reading.motor_current]);
  return { read, status: log.status() };
}

describe("a backlog of the night in which the clocks go back", () => {
  it.each(namings)("is read as its writer went on from file to file, rotated as %s", async (_, naming) => {
    for (const cuts of [[90], [110], [100, 110], [60, 90, 120], [89, 90, 91], [150]]) {
      for (const headed of [true, false]) {
        const { read, status } = await readBacklog(cuts, naming, headed);
        expect(read, `rotated before ${cuts}`).toEqual(expected);
        expect(status).toMatchObject({ rows: minutes, late: 0, rejected: 0, repeats: 0 });
      }
    }
  });

  it("is so however often it was rotated", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.integer({ min: 1, max: minutes - 1 }), { minLength: 1, maxLength: 12 }),
        fc.constantFrom(...namings),
        fc.boolean(),
        async (cuts, [, naming], headed) => {
          const { read } = await readBacklog(
            cuts.toSorted((a, b) => a - b),
            naming,
            headed,
          );
          expect(read).toEqual(expected);
        },
      ),
      { numRuns: 25 },
    );
  });

  it.each(namings)(
    "is told in order by names such as %s where all changed at one time",
    async (_, naming) => {
      const { read } = await readBacklog([60, 90, 120], naming, true, { changed: minutes });
      expect(read).toEqual(expected);
    },
  );

  it("is its first pass where nothing was written before", async () => {
    const [, naming] = namings[0];
    const { read } = await readBacklog([50], naming, true, { from: 40 });
    expect(read).toEqual(expected.slice(40));
  });

  it.each([
    ["before that hour", rows(0, 20)],
    ["in the same hour a year before", "2025-11-02 01:50:00,9.1,86.4,on\n"],
    ["later, since its time of change was lost", "2026-11-01 05:00:00,9.1,86.4,on\n"],
    ["in the same hour a year later", "2027-11-07 01:50:00,9.1,86.4,on\n"],
  ])("is its first pass where the log before it ended %s", async (_, text) => {
    const folder = logFolder();
    const before = leave(folder, "LM-01.csv.1", `${header}\n${text}`, 20);
    const path = leave(folder, "LM-01.csv", `${header}\n${rows(40, 60)}`, 60);
    const log = openLog(folder, { timezone: "America/Chicago" });
    log.setFiles([path, before]);
    const times = (await readAll(log)).map(({ time }) => time);
    expect(times).toEqual(expect.arrayContaining(expected.slice(40, 60).map(([time]) => time)));
  });

  it("does not take a log of other columns, which covers the same hour, for the one before", async () => {
    const folder = logFolder();
    const ozone = (from: number, to: number): string => rows(from, to).replaceAll(/,.*,on$/gm, ",on");
    const paths = [
      leave(folder, "LM-01-motor.csv.1", `${header}\n${rows(40, 70)}`, 70),
      leave(folder, "LM-01-ozone.csv.1", `time,ozone\n${ozone(40, 71)}`, 71),
      leave(folder, "LM-01-motor.csv", `${header}\n${rows(70, minutes)}`, minutes),
      leave(folder, "LM-01-ozone.csv", `time,ozone\n${ozone(71, minutes)}`, minutes),
    ];
    for (const files of [paths.slice(0, 2), paths]) {
      const log = openLog(folder, { timezone: "America/Chicago" });
      log.setFiles(files.toSorted());
      const times = (await readAll(log)).map(({ time }) => time);
      const last = files.length === 2 ? 71 : minutes;
      expect(times).toEqual(Array.from({ length: last - 40 }, (_, i) => instant(40 + i)));
      expect(log.status()).toMatchObject({ late: 0, rejected: 0 });
    }
  });

  it("does not take a log's compressed copy beside it for the one before", async () => {
    const folder = logFolder();
    const text = `${header}\n${rows(40, 70)}`;
    const path = leave(folder, "LM-01.csv.1", text, 70);
    const packed = leave(folder, "LM-01.csv.1.gz", gzipSync(text), 70);
    copyFileSync(path, join(folder, "LM-01-copy.csv"));
    const log = openLog(folder, { timezone: "America/Chicago" });
    log.setFiles([join(folder, "LM-01-copy.csv"), path, packed]);
    expect((await readAll(log)).map(({ time }) => time)).toEqual(
      expected.slice(40, 70).map(([time]) => time),
    );
    expect(log.status()).toMatchObject({ rows: 30, repeats: 60 });
  });

  it("under a new name while it is followed is the pass that the log before it came to", async () => {
    const folder = logFolder();
    const first = leave(folder, "LM-01-a.csv", `${header}\n${rows(0, 40)}`, 40);
    const log = openLog(folder, { timezone: "America/Chicago" });
    log.setFiles([first]);
    await readAll(log);
    appendFileSync(first, rows(40, 110));
    utimesSync(first, new Date(beginMs), new Date(beginMs + 110 * 60_000));
    const second = leave(folder, "LM-01-b.csv", `${header}\n${rows(110, minutes)}`, minutes);
    log.setFiles([first, second]);
    expect((await readAll(log)).map(({ time }) => time)).toEqual(expected.slice(40).map(([time]) => time));
  });

  it("is the same after a checkpoint at any batch", async () => {
    const folder = logFolder();
    const paths = [
      leave(folder, "LM-01.csv.1", `${header}\n${rows(0, 100)}`, 100),
      leave(folder, "LM-01.csv", `${header}\n${rows(100, minutes)}`, minutes),
    ];
    const log = openLog(folder, { timezone: "America/Chicago" });
    log.setFiles(paths);
    let read = 0;
    for await (const batch of log.read()) {
      read += batch.rows;
      const again = openLog(folder, { timezone: "America/Chicago" }, log.save());
      again.setFiles(paths);
      expect((await readAll(again)).map(({ time }) => time)).toEqual(
        expected.slice(read).map(([time]) => time),
      );
    }
    expect(read).toBe(minutes);
  });
});
