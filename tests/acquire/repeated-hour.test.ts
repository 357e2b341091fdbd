import { appendFileSync, renameSync } from "node:fs";
import { join } from "node:path";
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

const expected = Array.from({ length: minutes }, (_, minute) => [
  new Date(beginMs + minute * 60_000).toISOString(),
  minute,
]);

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
