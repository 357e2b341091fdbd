import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { header, logFolder, openLog, readAll, readingsOf, write } from "./workbench.ts";

/** A log's text: each line so long, its row number as the motor current, the last one not ended. */
function unended(lines: readonly number[]): string {
  const beginMs = Date.UTC(2026, 4, 4);
  const rows = lines.map((length, row) => {
    const cells = `${new Date(beginMs + row * 1000).toISOString()},${row},86.4,on,`;
    return cells + "x".repeat(Math.max(0, length - cells.length - 1));
  });
  return [`${header},note`, ...rows].join("\n");
}

/** All rows of a log that is read once and then flushed, as at the end of `check`. */
async function readOut(text: string) {
  const folder = logFolder();
  const path = write(folder, "LM-01.csv", text);
  const log = openLog(folder);
  log.setFiles([path]);
  const read = await readAll(log);
  const flushed = readingsOf(log.flush());
  return { read, flushed, rejected: log.status().rejected };
}

/** Every row once and in order, the last one by `flush`. */
async function expectWhole(lines: readonly number[]): Promise<void> {
  const { read, flushed, rejected } = await readOut(unended(lines));
  const last = lines.length - 1;
  expect(rejected).toBe(0);
  expect(read.map((reading) => reading.motor_current)).toEqual(Array.from({ length: last }, (_, row) => row));
  expect(flushed).toEqual([
    {
      time: new Date(Date.UTC(2026, 4, 4) + last * 1000).toISOString(),
      motor_current: last,
      discharge_pressure: 86.4,
      ozone: 1,
    },
  ]);
}

describe("a last line without line end, in a log that is read in several pieces", () => {
  // Pieces are of 16 KiB, then 256 KiB: the third is the first that is read into memory used before.
  it("is read right where it is longer than the row before, which lies over the end of a piece", async () => {
    const rows = Math.ceil((272 * 1024 - `${header},note\n`.length) / 64);
    await expectWhole([...new Array<number>(rows).fill(64), 300]);
  });

  it("is read right in a log of any size, whatever its lines' lengths", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(fc.integer({ min: 1, max: 270_000 }), fc.integer({ min: 270_000, max: 800_000 })),
        fc.array(fc.integer({ min: 40, max: 1500 }), { minLength: 1, maxLength: 20 }),
        async (bytes, lengths) => {
          const lines: number[] = [];
          for (let sum = 0; sum < bytes; sum += lines.at(-1) ?? 1) {
            lines.push(lengths[lines.length % lengths.length] ?? 60);
          }
          await expectWhole(lines);
        },
      ),
      { numRuns: 60 },
    );
  });
});
