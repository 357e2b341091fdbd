import { appendFileSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { open } from "node:fs/promises";
import { basename } from "node:path";
import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import { createDecoder, newDecodeState } from "../../src/acquire/decode.ts";
import type { SpanLack } from "../../src/acquire/span.ts";
import { spanReader } from "../../src/acquire/span-reader.ts";
import { emptyIndex, indexBlock, mostStretches, thinned } from "../../src/acquire/sparse-index.ts";
import { openUnitLog, type UnitLog } from "../../src/acquire/unit-log.ts";
import { zoneReader } from "../../src/acquire/zone.ts";
import { throughText } from "../support/through-text.ts";
import {
  header,
  logFolder,
  openLog,
  type Reading,
  readAll,
  readingsOf,
  unitWith,
  write,
} from "./workbench.ts";

const second = 1000;
const minute = 60 * second;
const hour = 60 * minute;
const day = 24 * hour;
const mebibyte = 1024 * 1024;
const monthMs = Date.UTC(2026, 4, 1);

afterEach(() => {
  vi.restoreAllMocks();
});

const written = (timeMs: number): string => new Date(timeMs).toISOString().replace(".000", "");

/** Rows of every `everyMs` from one time to before another; the current tells the row's second in the day. */
function rows(fromMs: number, toMs: number, everyMs = 10 * second): string {
  let text = "";
  for (let ms = fromMs; ms < toMs; ms += everyMs)
    text += `${written(ms)},${(ms / second) % 86_400},86.4,on\n`;
  return text;
}

const log = (fromMs: number, toMs: number, everyMs?: number): string =>
  `${header}\n${rows(fromMs, toMs, everyMs)}`;

interface Span {
  readonly readings: Reading[];
  readonly late: Reading[];
  readonly lacks: SpanLack[];
}

async function spanOf(unit: UnitLog, fromMs: number, toMs: number): Promise<Span> {
  const span: Span = { readings: [], late: [], lacks: [] };
  const aside = {
    late: (batch: Parameters<typeof readingsOf>[0]) => span.late.push(...readingsOf(batch)),
    lacking: (lack: SpanLack) => span.lacks.push(lack),
  };
  for await (const batch of unit.readSpan(fromMs, toMs, aside)) span.readings.push(...readingsOf(batch));
  return span;
}

const within = (readings: readonly Reading[], fromMs: number, toMs: number): Reading[] =>
  readings.filter(({ time }) => Date.parse(time) >= fromMs && Date.parse(time) < toMs);

/** What runs in `work` reads so many bytes of plain files. */
async function bytesReadBy(work: () => Promise<unknown>): Promise<number> {
  const probe = await open("/dev/null");
  const handles = Object.getPrototypeOf(probe) as typeof probe;
  await probe.close();
  let bytes = 0;
  const read = handles.read as (...args: unknown[]) => Promise<{ bytesRead: number }>;
  const spy = vi.spyOn(handles, "read").mockImplementation(async function (
    this: unknown,
    ...args: unknown[]
  ) {
    const result = await read.apply(this, args);
    bytes += result.bytesRead;
    return result as never;
  });
  await work();
  spy.mockRestore();
  return bytes;
}

const overCheckpoint = (folder: string, unit: UnitLog, paths: readonly string[]): UnitLog => {
  const again = openLog(folder, {}, throughText(unit.save()));
  again.setFiles(paths);
  return again;
};

/** A month of readings every half minute, a file or a file a day. */
function monthOf(folder: string, daily: boolean): string[] {
  if (!daily) return [write(folder, "LM-01.csv", log(monthMs, monthMs + 30 * day, minute / 2))];
  return Array.from({ length: 30 }, (_, i) =>
    write(
      folder,
      `LM-01-${String(i + 1).padStart(2, "0")}.csv`,
      log(monthMs + i * day, monthMs + (i + 1) * day, minute / 2),
    ),
  );
}

describe("an hour of last month", () => {
  for (const daily of [false, true]) {
    it(`is read out of ${daily ? "daily files" : "one large file"} in under 1 MiB, also after a restart`, async () => {
      const folder = logFolder();
      const paths = monthOf(folder, daily);
      const first = openLog(folder);
      first.setFiles(paths);
      const everything = await readAll(first);
      expect(everything).toHaveLength(30 * 2880);
      const restarted = overCheckpoint(folder, first, paths);
      for (const unit of [first, restarted]) {
        for (const fromMs of [monthMs, monthMs + 11.7 * day, monthMs + 30 * day - hour]) {
          let span: Span | undefined;
          const bytes = await bytesReadBy(async () => {
            span = await spanOf(unit, fromMs, fromMs + hour);
          });
          expect(span?.readings).toEqual(within(everything, fromMs, fromMs + hour));
          expect(span?.readings).toHaveLength(120);
          expect(span?.lacks).toEqual([]);
          expect(bytes).toBeGreaterThan(20_000);
          expect(bytes).toBeLessThan(mebibyte);
        }
      }
    });
  }

  it("before the first reading and after the last there is nothing, and no row is read for it", async () => {
    const folder = logFolder();
    const paths = monthOf(folder, false);
    const unit = openLog(folder);
    unit.setFiles(paths);
    await readAll(unit);
    expect(await bytesReadBy(() => spanOf(unit, 0, monthMs))).toBe(0);
    expect((await spanOf(unit, 0, monthMs)).readings).toEqual([]);
    expect((await spanOf(unit, monthMs + 30 * day, monthMs + 40 * day)).readings).toEqual([]);
  });

  it("comes from a log that was followed a few rows at a time as well", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", `${header}\n`);
    const unit = openLog(folder);
    unit.setFiles([path]);
    for (let at = monthMs; at < monthMs + 10 * day; at += 3 * hour) {
      appendFileSync(path, rows(at, at + 3 * hour));
      await readAll(unit);
    }
    const fromMs = monthMs + 4 * day;
    let found = 0;
    const bytes = await bytesReadBy(async () => {
      found = (await spanOf(unit, fromMs, fromMs + hour)).readings.length;
    });
    expect(found).toBe(360);
    expect(bytes).toBeLessThan(mebibyte);
  });
});

describe("logs that have changed since they were read", () => {
  /** Two days, read through. */
  async function twoDays(): Promise<{ folder: string; path: string; unit: UnitLog; everything: Reading[] }> {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(monthMs, monthMs + 2 * day));
    const unit = openLog(folder);
    unit.setFiles([path]);
    return { folder, path, unit, everything: await readAll(unit) };
  }
  const fromMs = monthMs + day;
  const toMs = fromMs + hour;

  it("rotated by rename: the hour is found in the file's new place", async () => {
    const { folder, path, unit, everything } = await twoDays();
    renameSync(path, `${path}.1`);
    writeFileSync(path, log(monthMs + 2 * day, monthMs + 3 * day));
    unit.setFiles([path, `${path}.1`]);
    // Even before the next read.
    expect((await spanOf(unit, fromMs, toMs)).readings).toEqual(within(everything, fromMs, toMs));
    everything.push(...(await readAll(unit)));
    const again = overCheckpoint(folder, unit, [path, `${path}.1`]);
    for (const one of [unit, again]) {
      const lateMs = monthMs + 2 * day - hour / 2;
      const bytes = await bytesReadBy(async () => {
        const { readings } = await spanOf(one, lateMs, lateMs + hour);
        expect(readings).toEqual(within(everything, lateMs, lateMs + hour));
        expect(readings).toHaveLength(360);
      });
      expect(bytes).toBeLessThan(2 * mebibyte);
    }
  });

  it("compressed after rotation, alone or beside the file: each reading once", async () => {
    const { path, unit, everything } = await twoDays();
    write(path.slice(0, -basename(path).length), "LM-01.csv.gz", gzipSync(log(monthMs, monthMs + 2 * day)));
    unit.setFiles([path, `${path}.gz`]);
    await readAll(unit);
    const hourOfIt = within(everything, fromMs, toMs);
    expect(await spanOf(unit, fromMs, toMs)).toEqual({ readings: hourOfIt, late: [], lacks: [] });
    rmSync(path);
    unit.setFiles([`${path}.gz`]);
    expect((await spanOf(unit, fromMs, toMs)).readings).toEqual(hourOfIt);
    await readAll(unit);
    expect(await spanOf(unit, fromMs, toMs)).toEqual({ readings: hourOfIt, late: [], lacks: [] });
  });

  it("truncated and started again: what was there is told as gone, what is there is read", async () => {
    const { path, unit } = await twoDays();
    writeFileSync(path, log(monthMs + 2 * day, monthMs + 2 * day + hour));
    const gone = [{ file: path, fromMs, toMs: toMs - 1, why: "the log is gone" }];
    expect(await spanOf(unit, fromMs, toMs)).toEqual({ readings: [], late: [], lacks: gone });
    await readAll(unit);
    expect(await spanOf(unit, fromMs, toMs)).toEqual({ readings: [], late: [], lacks: gone });
    const newer = await spanOf(unit, monthMs + 2 * day, monthMs + 3 * day);
    expect(newer.readings).toHaveLength(360);
    expect(newer.lacks).toEqual([]);
  });

  it("replaced by a longer copy: the hour is still found", async () => {
    const { folder, path, unit, everything } = await twoDays();
    renameSync(write(folder, "copy.tmp", log(monthMs, monthMs + 3 * day)), path);
    expect(await spanOf(unit, fromMs, toMs)).toEqual({
      readings: within(everything, fromMs, toMs),
      late: [],
      lacks: [],
    });
  });

  it("cut short in the middle: what is left of it is read, and the rest is told", async () => {
    const { path, unit, everything } = await twoDays();
    const bytes = readFileSync(path);
    writeFileSync(path, bytes.subarray(0, bytes.length / 2));
    const { readings, lacks } = await spanOf(unit, monthMs, monthMs + 2 * day);
    expect(lacks).toMatchObject([
      { file: path, toMs: everything.length * 10 * second + monthMs - 10 * second },
    ]);
    const linesLeft = readFileSync(path, "utf8").split("\n").length - 1;
    expect(readings).toEqual(everything.slice(0, linesLeft - 1));
    // Told from the part on that is not there whole: no reading is missing before.
    const [{ fromMs: lackedMs }] = lacks;
    expect(lackedMs).toBeGreaterThan(monthMs);
    expect(lackedMs).toBeLessThanOrEqual(monthMs + readings.length * 10 * second);
  });

  it("a daily file that was deleted is named with the times it held", async () => {
    const folder = logFolder();
    const paths = monthOf(folder, true);
    const unit = openLog(folder);
    unit.setFiles(paths);
    await readAll(unit);
    rmSync(paths[3]);
    const [start, end] = [monthMs + 3 * day - hour, monthMs + 4 * day + hour];
    const lacks = [
      {
        file: paths[3],
        fromMs: monthMs + 3 * day,
        toMs: monthMs + 4 * day - minute / 2,
        why: "the log is gone",
      },
    ];
    for (let look = 0; look < 2; look++) {
      const span = await spanOf(unit, start, end);
      expect(span.lacks).toEqual(lacks);
      expect(span.readings).toHaveLength(240);
      await readAll(unit);
    }
  });

  it("a path that is a folder now is told with the reason", async () => {
    const { path, unit } = await twoDays();
    rmSync(path);
    mkdirSync(path);
    expect((await spanOf(unit, fromMs, toMs)).lacks).toMatchObject([{ file: path, why: /it is a folder/ }]);
  });
});

describe("what decoding rests on in the middle of a log", () => {
  it("the second pass of a repeated hour is still the second", async () => {
    // America/Chicago set its clocks back at 2026-11-01 07:00 UTC (IANA time zone database).
    const backMs = Date.UTC(2026, 10, 1, 7);
    let text = `${header}\n`;
    for (let ms = backMs - 4 * hour; ms < backMs + 4 * hour; ms += 2 * second) {
      const wallMs = ms - (ms < backMs ? 5 : 6) * hour;
      text += `${written(wallMs).replace("T", " ").replace("Z", "")},${(ms / second) % 86_400},86.4,on\n`;
    }
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", text);
    const unit = openLog(folder, { timezone: "America/Chicago" });
    unit.setFiles([path]);
    const everything = await readAll(unit);
    expect(everything).toHaveLength(8 * 1800);
    const saved = throughText(unit.save());
    const again = openLog(folder, { timezone: "America/Chicago" }, saved);
    for (const one of [unit, again]) {
      for (let ms = backMs - hour; ms < backMs + hour; ms += 20 * minute) {
        const span = await spanOf(one, ms, ms + 20 * minute);
        expect(span.readings).toEqual(within(everything, ms, ms + 20 * minute));
        expect(span.readings).toHaveLength(600);
      }
    }
  });

  it("a header in the middle holds from there on", async () => {
    const folder = logFolder();
    const other = "time,discharge_pressure_kpa,motor_current_a,ozone";
    const path = write(
      folder,
      "LM-01.csv",
      `${log(monthMs, monthMs + day)}${other}\n${rows(monthMs + day, monthMs + 6 * day)}`,
    );
    const unit = openLog(folder);
    unit.setFiles([path]);
    const everything = await readAll(unit);
    for (const fromMs of [monthMs + 20 * hour, monthMs + day - 10 * minute, monthMs + 6 * day - hour]) {
      const { readings } = await spanOf(unit, fromMs, fromMs + hour);
      expect(readings).toEqual(within(everything, fromMs, fromMs + hour));
      expect(readings).toHaveLength(360);
    }
  });

  it("a log that goes on without a header is understood by the one before it", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(monthMs, monthMs + hour));
    const unit = openLog(folder);
    unit.setFiles([path]);
    await readAll(unit);
    writeFileSync(path, rows(monthMs + day, monthMs + 2 * day));
    await readAll(unit);
    const again = overCheckpoint(folder, unit, [path]);
    expect((await spanOf(again, monthMs + day, monthMs + 2 * day)).readings).toHaveLength(8640);
  });

  it("a last line without line end counts once it was taken", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", log(monthMs, monthMs + minute).trimEnd());
    const unit = openLog(folder);
    unit.setFiles([path]);
    await readAll(unit);
    expect((await spanOf(unit, monthMs, monthMs + hour)).readings).toHaveLength(5);
    unit.flush();
    expect((await spanOf(unit, monthMs, monthMs + hour)).readings).toHaveLength(6);
    appendFileSync(path, `\n${rows(monthMs + minute, monthMs + 2 * minute)}`);
    await readAll(unit);
    expect((await spanOf(unit, monthMs, monthMs + hour)).readings).toHaveLength(12);
  });
});

it("a span may be read in the middle of reading: neither disturbs the other", async () => {
  const folder = logFolder();
  const paths = monthOf(folder, true).slice(0, 8);
  const alone = openLog(folder);
  alone.setFiles(paths);
  const everything = await readAll(alone);
  const unit = openLog(folder);
  unit.setFiles(paths);
  const seen: Reading[] = [];
  let batches = 0;
  for await (const batch of unit.read()) {
    seen.push(...readingsOf(batch));
    if (batches++ % 4 === 0) {
      const last = Date.parse(seen.at(-1)?.time ?? "");
      const { readings } = await spanOf(unit, last - 2 * hour, last + day);
      // All that was read so far, and nothing that was not.
      expect(readings).toEqual(within(seen, last - 2 * hour, last + day));
    }
  }
  expect(batches).toBeGreaterThan(8);
  expect(seen).toEqual(everything);
  expect(unit.save()).toEqual(alone.save());
});

describe("clocks that step back", () => {
  /** Two hours from noon, an hour of the night once more, and the afternoon. */
  const setBack = `${log(monthMs + 12 * hour, monthMs + 14 * hour)}${rows(monthMs + 3 * hour, monthMs + 4 * hour)}${rows(monthMs + 13 * hour, monthMs + 18 * hour)}`;

  it("readings of an earlier time in the middle of a log are found", async () => {
    const folder = logFolder();
    const path = write(folder, "LM-01.csv", setBack);
    const unit = openLog(folder);
    unit.setFiles([path]);
    await readAll(unit);
    const { readings } = await spanOf(unit, monthMs + 3 * hour, monthMs + 3.5 * hour);
    expect(readings).toHaveLength(180);
  });

  it("a reading that is late comes as late, once, also from a log beside its compressed copy", async () => {
    const folder = logFolder();
    const paths = [write(folder, "LM-01.csv.gz", gzipSync(setBack)), write(folder, "LM-01.csv", setBack)];
    for (const some of [paths, paths.slice(0, 1)]) {
      const unit = openLog(folder);
      unit.setFiles(some);
      await readAll(unit);
      const { readings, late } = await spanOf(unit, monthMs, monthMs + 13 * hour);
      expect(readings).toHaveLength(360);
      expect(late).toHaveLength(360);
    }
  });

  it("readings that were left out as ahead of the clock stay out when their time has come", async () => {
    const folder = logFolder();
    const noon = monthMs + 12 * hour;
    const wild = rows(noon + 5 * minute, noon + 10 * minute).replaceAll("86.4", "99");
    const path = write(folder, "LM-01.csv", `${log(monthMs - 3 * day, noon)}${wild}`);
    const { unit, fleet } = unitWith(folder);
    let nowMs = noon;
    const unitLog = openUnitLog(unit, fleet, { latest: { timeMs: () => nowMs, why: "ahead of the clock" } });
    unitLog.setFiles([path]);
    await readAll(unitLog);
    expect(unitLog.status().rejected).toBe(30);
    nowMs = noon + hour;
    appendFileSync(path, rows(noon, nowMs));
    await readAll(unitLog);
    const saved = throughText(unitLog.save());
    for (const one of [unitLog, openUnitLog(unit, fleet, { saved })]) {
      const { readings, late } = await spanOf(one, noon, nowMs);
      expect(readings).toHaveLength(360);
      expect(readings.every((reading) => reading.discharge_pressure === 86.4)).toBe(true);
      expect(late).toEqual([]);
    }
  });

  /** A reading in a line of some KiB, so that few readings are many stretches. */
  const wide = (timeMs: number, current: number): string =>
    `${written(timeMs)},${current},86.4,on,${"x".repeat(4000)}\n`;
  const wideHeader = `${header},note\n`;

  it("readings that were late, since a clock had run ahead, are found by their time", async () => {
    const folder = logFolder();
    let text = wideHeader;
    for (let i = 0; i < 500; i++) text += wide(monthMs + (i === 100 ? 400 * day : i * 10 * second), i);
    const path = write(folder, "LM-01.csv", text);
    const unit = openLog(folder);
    unit.setFiles([path]);
    expect(await readAll(unit)).toHaveLength(101);
    const { readings, late } = await spanOf(unit, monthMs + hour, monthMs + 80 * minute);
    expect(readings.map((r) => r.motor_current)).toEqual(Array.from({ length: 120 }, (_, i) => 360 + i));
    expect(late).toEqual([]);
  });

  const step = fc.oneof(
    { weight: 12, arbitrary: fc.constant(10) },
    { weight: 2, arbitrary: fc.constant(0) },
    { weight: 1, arbitrary: fc.integer({ min: -900, max: 900 }) },
  );
  const file = fc.record({
    startS: fc.integer({ min: 0, max: 1500 }),
    steps: fc.array(step, { maxLength: 250 }),
  });

  it("for any logs and any span: what is read is what logs of the span's rows alone would give", async () => {
    const property = fc.asyncProperty(
      fc.array(file, { minLength: 1, maxLength: 3 }),
      fc.array(fc.tuple(fc.integer({ min: -100, max: 4000 }), fc.constantFrom(10, 100, 500, 2000)), {
        minLength: 1,
        maxLength: 4,
      }),
      fc.constantFrom(0, 60 * second),
      fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 3 }),
      fc.boolean(),
      async (files, spans, orderWithinMs, cuts, restart) => {
        const logs = files.map(({ startS, steps }) => {
          let s = startS;
          return steps.map((by, i) => {
            s += by;
            return { ms: monthMs + s * second, current: (s + i) % 7 };
          });
        });
        const textOf = (some: (typeof logs)[number]): string =>
          wideHeader + some.map(({ ms, current }) => wide(ms, current)).join("");
        const folder = logFolder();
        const paths = logs.map((_, i) => write(folder, `LM-01-${i}.csv`, ""));
        let unit = openLog(folder, { orderWithinMs });
        unit.setFiles(paths);
        for (const cut of [...cuts].sort((a, b) => a - b).concat(1)) {
          for (const [i, rowsOfIt] of logs.entries()) {
            const bytes = Buffer.from(textOf(rowsOfIt));
            writeFileSync(paths[i], bytes.subarray(0, Math.floor(bytes.length * cut)));
          }
          await readAll(unit);
        }
        if (restart) {
          unit = openLog(folder, { orderWithinMs }, throughText(unit.save()));
        }
        for (const [fromS, forS] of spans) {
          const fromMs = monthMs + fromS * second;
          const toMs = fromMs + forS * second;
          const other = logFolder();
          const alone = openLog(other, { orderWithinMs });
          alone.setFiles(
            logs.map((some, i) =>
              write(other, `LM-01-${i}.csv`, textOf(some.filter(({ ms }) => ms >= fromMs && ms < toMs))),
            ),
          );
          const readings = await readAll(alone);
          readings.push(...readingsOf(alone.flush()));
          const late = readingsOf(alone.takeLate());
          expect(await spanOf(unit, fromMs, toMs)).toEqual({ readings, late, lacks: [] });
        }
      },
    );
    await fc.assert(property, { numRuns: 60 });
  }, 60_000);
});

it("a log's reader that is parked goes on at the same row", async () => {
  const folder = logFolder();
  const [path] = monthOf(folder, false);
  const { unit, fleet } = unitWith(folder);
  const unitLog = openUnitLog(unit, fleet);
  unitLog.setFiles([path]);
  await readAll(unitLog);
  const decoder = createDecoder(unit, fleet.timezone, zoneReader(fleet.timezone));
  const [file] = unitLog.save().files;
  const fromMs = monthMs + 5 * day;
  const reader = spanReader(file, fromMs, fromMs + 2 * day, decoder, (why) => expect.fail(why));
  const times: number[] = [];
  while (await reader.load()) {
    const { block } = reader;
    if (block === undefined) break;
    const stop = Math.min(block.rows, reader.at + 300);
    for (; reader.at < stop; reader.at++) times.push(block.timeMs[reader.at]);
    if (reader.at < block.rows) await reader.park();
  }
  expect(times).toEqual(Array.from({ length: 2 * 2880 }, (_, i) => fromMs + (i * minute) / 2));
});

describe("the size of an index", () => {
  const state = {
    ...newDecodeState(),
    header: ["time", "motor_current_a"],
    time: { lastWallMs: 1.7e12, secondPass: false },
  };
  const indexOf = (blocks: number, blockBytes: number): typeof emptyIndex => {
    let index = emptyIndex;
    for (let i = 0; i < blocks; i++) {
      const timeMs = Float64Array.of(1.7e12 + i * 1000);
      index = indexBlock(
        index,
        i * blockBytes,
        { ...state, line: 1 + i * 4000 },
        { rows: 1, timeMs, consumed: blockBytes },
      );
    }
    return index;
  };

  it("of ten years in one log stays under 64 KB, and no stretch of it is lost", () => {
    const blocks = 8000;
    const blockBytes = 256 * 1024;
    const { stretches } = indexOf(blocks, blockBytes);
    expect(stretches.length).toBeLessThanOrEqual(mostStretches);
    expect(stretches.length).toBeGreaterThan(mostStretches / 4);
    expect(JSON.stringify(stretches).length).toBeLessThan(64_000);
    let at = 0;
    for (const { offset, bytes } of stretches) {
      expect(offset).toBe(at);
      at += bytes;
    }
    expect(at).toBe(blocks * blockBytes);
  });

  it("of many logs together is as small, besides one stretch a log", () => {
    const logs = Array.from({ length: 60 }, () => indexOf(60, 256 * 1024));
    const fewer = thinned(logs);
    const count = fewer.reduce((sum, { stretches }) => sum + stretches.length, 0);
    expect(count).toBeLessThanOrEqual(mostStretches + 60);
    expect(count).toBeGreaterThan(mostStretches / 4);
    expect(thinned(fewer)).toBe(fewer);
  });
});
