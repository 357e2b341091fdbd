import { expect, it } from "vitest";
import { newLogFile } from "../../src/acquire/log-file.ts";
import type { LogReader } from "../../src/acquire/log-reader.ts";
import { mergeByTime } from "../../src/acquire/merge.ts";
import { channelIndex } from "../../src/terms/channels.ts";
import { currents, header, logFolder, openLog, rowsOf, startOf, write } from "./workbench.ts";

it("a clock that steps back at the end of a log makes no other log's reading late", async () => {
  const folder = logFolder();
  const stepsBack = `${header}\n${rowsOf(10, 11)}${rowsOf(20, 21)}${rowsOf(30, 31)}${rowsOf(10, 11)}`;
  const unit = openLog(folder);
  unit.setFiles([
    write(folder, "LM-01-a.csv", `${header}\n${rowsOf(11, 12)}`),
    write(folder, "LM-01-b.csv", stepsBack),
  ]);
  expect(await currents(unit)).toEqual([10, 11, 20, 30]);
  expect(unit.status().late).toBe(1);
});

/** A log with rows at these times. */
function logOf(...times: readonly number[]): LogReader {
  const file = newLogFile("LM-01.csv");
  const rows = times.length;
  const block = { rows, timeMs: Float64Array.from(times), line: new Float64Array(rows), columns: [] };
  let ended = false;
  const reader: LogReader = {
    file,
    block: undefined,
    at: 0,
    nextMs: Number.NEGATIVE_INFINITY,
    rest: Buffer.alloc(0),
    tellRejected: () => {},
    async load() {
      ended ||= reader.block !== undefined;
      reader.block = ended ? undefined : { ...block, rejected: [], consumed: 0, state: file.decode };
      reader.nextMs = ended ? Number.POSITIVE_INFINITY : times[reader.at];
      return !ended;
    },
    park: async () => {
      reader.block = undefined;
    },
  };
  return reader;
}

it("thousands of logs in a row cost each its own turns, not a look at all others at each", async () => {
  const logs = Array.from({ length: 2000 }, (_, i) => logOf(i));
  const times: number[] = [];
  let looks = 0;
  const take = { row: () => false, run: ({ block }: LogReader) => times.push(block?.timeMs[0] ?? -1) && 1 };
  for await (const turned of mergeByTime(logs, take)) looks += turned.size;
  expect(times).toEqual(logs.map((_, i) => i));
  expect(looks).toBeLessThan(4 * logs.length);
});

it("two logs that alternate are told of once each, however often they did", async () => {
  const times = Array.from({ length: 1000 }, (_, i) => i);
  const logs = [0, 1].map((odd) => logOf(...times.filter((time) => time % 2 === odd)));
  const taken: number[] = [];
  const take = {
    row: ({ block }: LogReader, row: number) => taken.push(block?.timeMs[row] ?? -1) === times.length,
    run: () => 0,
  };
  const told: number[] = [];
  for await (const turned of mergeByTime(logs, take)) told.push([...turned].length);
  expect(taken).toEqual(times);
  expect(told).toEqual([2]);
});

it("a column that is blank throughout is there from its log's first reading on", async () => {
  const folder = logFolder();
  const logs = Array.from({ length: 7 }, (_, i) =>
    i === 5
      ? `time,motor_current_a,gas_pressure_kpa\n${startOf(i)},${i},\n`
      : `${header}\n${rowsOf(i, i + 1)}`,
  );
  const unit = openLog(folder);
  unit.setFiles(logs.map((text, i) => write(folder, `LM-01-${i}.csv`, text)));
  const hasGas: (readonly [number, boolean, boolean])[] = [];
  for await (const { timeMs, columns } of unit.read()) {
    const second = new Date(timeMs[0]).getUTCSeconds();
    const there = unit.status().channels.includes("gas_pressure");
    hasGas.push([second, columns[channelIndex.gas_pressure] !== undefined, there]);
  }
  expect(hasGas).toEqual([0, 1, 2, 3, 4, 5, 6].map((second) => [second, second === 5, second >= 5]));
});
