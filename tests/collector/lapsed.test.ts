import { expect, it } from "vitest";
import { lapsed, lapseWords } from "../../src/collector/keeper.ts";
import { takeBack, withLapses } from "../../src/fleet/services.ts";
import type { StoredService } from "../../src/store/services.ts";
import { hour } from "../../src/terms/time.ts";

const record = (row: number, step: StoredService["step"], atMs: number, untilMs?: number): StoredService => ({
  row,
  id: String(row),
  unit: "LM-01",
  work: "cleaning",
  step,
  atMs,
  saidMs: atMs,
  by: "Ben",
  ...(untilMs !== undefined && { untilMs }),
});

it("a cleaning that ended by itself is reminded of until somebody says what became of it", () => {
  const begun = record(1, "begin", 0, 8 * hour);
  const rows = (records: StoredService[], nowMs: number) => lapsed(records, nowMs).map(({ row }) => row);
  expect(rows([begun], 7 * hour)).toEqual([]);
  expect(rows([begun], 8 * hour)).toEqual([1]);
  expect(rows([begun, record(2, "end", 2 * hour)], 9 * hour)).toEqual([]);
  expect(rows([begun, record(2, "done", 9 * hour)], 10 * hour)).toEqual([]);
  expect(rows([begun, record(2, "begin", 9 * hour, 17 * hour)], 10 * hour)).toEqual([]);
  expect(rows([begun, record(2, "begin", 9 * hour, 17 * hour)], 20 * hour)).toEqual([2]);
});

it("of a cleaning that was begun by mistake and taken back, nobody is reminded, and it is not on record as done", () => {
  const begun = record(1, "begin", 0, 8 * hour);
  for (const nowMs of [0, hour]) {
    const back = { ...takeBack(begun, nowMs), row: 2, id: "2" };
    expect(lapsed([begun, back], 20 * hour)).toEqual([]);
    expect(withLapses([begun, back]).map(({ step }) => step)).toEqual(["begin", "begin", "taken-back"]);
  }
});

it("a stop that was planned is taken back before it begins", () => {
  const planned = { ...record(1, "begin", 5 * hour, 9 * hour), work: "planned stop" as const };
  const ends = withLapses([planned, takeBack(planned, 0)]).at(-1);
  expect(ends).toMatchObject({ step: "taken-back", atMs: 5 * hour + 1 });
});

it("the reminder says its times in the fleet's zone", () => {
  const beganMs = Date.parse("2026-05-04T03:14:00Z");
  expect(lapseWords(record(1, "begin", beganMs, beganMs + 8 * hour), "America/Chicago")).toContain(
    "began at 2026-05-03 22:14 ended by itself at 2026-05-04 06:14;",
  );
});
