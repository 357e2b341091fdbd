import { expect, it } from "vitest";
import { takeBack, withLapses } from "../../src/fleet/services.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";
import { serviceRows, touches } from "../../src/report/service-rows.ts";

const record = (
  step: ServiceRecord["step"],
  atMs: number,
  more: Partial<ServiceRecord> = {},
): ServiceRecord => ({
  unit: "LM-01",
  work: "cleaning",
  step,
  atMs,
  ...more,
});

const rows = (nowMs: number, ...records: ServiceRecord[]) =>
  serviceRows(withLapses(records), nowMs).map(({ fromMs, toMs, outcome, by }) => [fromMs, toMs, outcome, by]);

it("a work is one row from its begin to its end, with all who said so", () => {
  expect(
    rows(100, record("begin", 10, { untilMs: 90, by: "Ann" }), record("end", 20, { by: "Ben" })),
  ).toEqual([[10, 20, "done", "Ann, Ben"]]);
  expect(rows(100, record("done", 10, { by: "Ann" }))).toEqual([[10, 10, "done", "Ann"]]);
  expect(rows(100, record("end", 10))).toEqual([[10, 10, "done", undefined]]);
});

it("what was not ended is under way, and after its time it has ended by itself, which is not done", () => {
  const begun = record("begin", 10, { untilMs: 90 });
  expect(rows(50, begun)).toEqual([[10, 90, "under way", undefined]]);
  expect(rows(100, begun)).toEqual([[10, 90, "ended by itself", undefined]]);
});

it("what was taken back says so, and is no second work", () => {
  const begun = record("begin", 10, { untilMs: 90 });
  expect(rows(100, begun, takeBack(begun, 30))).toEqual([[10, 30, "taken back", undefined]]);
});

it("a stop is planned, under way or over", () => {
  const stop = record("begin", 40, { untilMs: 60, work: "planned stop" });
  expect([30, 50, 70].map((nowMs) => rows(nowMs, stop)[0]?.[2])).toEqual(["planned", "under way", "over"]);
});

it("a work belongs to each period that it reaches into", () => {
  const period = { fromMs: 10, toMs: 20 };
  const reaches = (fromMs: number, toMs: number | null) => touches({ fromMs, toMs }, period);
  expect([reaches(5, 10), reaches(5, null), reaches(19, 30)]).toEqual([true, true, true]);
  expect([reaches(5, 9), reaches(20, null)]).toEqual([false, false]);
});
