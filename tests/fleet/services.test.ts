import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readFleet } from "../../src/fleet/read.ts";
import { openWorks, readServices, stopsAhead, takeBack, withLapses } from "../../src/fleet/services.ts";
import type { ServiceRecord } from "../../src/fleet/unit.ts";

const read = readFleet("units: [{ id: LM-01 }, { id: LM-02 }]", { path: "fleet.yaml", folder: "/srv" }, {});
if ("problems" in read) throw new Error(read.problems.join("\n"));
const { fleet } = read;

describe("service records from a CSV file", () => {
  test("are read in order of time, whatever the order of rows and columns", () => {
    const csv = [
      "# kept by hand",
      "kind,At,Unit,by",
      '"Planned stop begin",2026-05-03T12:00:00Z,LM-02,"night, shift"',
      "",
      "cleaning ,2026-05-02T09:00:00-05:00, LM-01,",
      "repair end,2026-05-02T09:00:00.5-05:00,LM-01",
    ].join("\r\n");
    expect(readServices(csv, "services.csv", fleet)).toEqual({
      services: [
        { unit: "LM-01", work: "cleaning", step: "done", atMs: Date.parse("2026-05-02T14:00:00Z") },
        { unit: "LM-01", work: "repair", step: "end", atMs: Date.parse("2026-05-02T14:00:00.500Z") },
        { unit: "LM-02", work: "planned stop", step: "begin", atMs: Date.parse("2026-05-03T12:00:00Z") },
      ],
    });
  });

  test("may tell of re-piping, of the baseline, and when a work ends by itself", () => {
    const csv = [
      "unit,kind,at,until",
      "LM-01,baseline confirm,2026-05-01T00:00:00Z,",
      "LM-01,re-piping,2026-05-02T00:00:00Z",
      "LM-01,baseline relearn,2026-05-03T00:00:00Z,",
      "LM-02,planned stop begin,2026-05-04T00:00:00Z,2026-05-05T00:00:00Z",
    ].join("\n");
    const at = (day: number) => Date.parse(`2026-05-0${day}T00:00:00Z`);
    expect(readServices(csv, "services.csv", fleet)).toEqual({
      services: [
        { unit: "LM-01", work: "baseline", step: "confirm", atMs: at(1) },
        { unit: "LM-01", work: "re-piping", step: "done", atMs: at(2) },
        { unit: "LM-01", work: "baseline", step: "relearn", atMs: at(3) },
        { unit: "LM-02", work: "planned stop", step: "begin", atMs: at(4), untilMs: at(5) },
        { unit: "LM-02", work: "planned stop", step: "lapse", atMs: at(5) },
      ],
    });
  });

  test("may be none", () => {
    expect(readServices("\ufeffunit,kind,at\n", "services.csv", fleet)).toEqual({ services: [] });
  });

  test.each([
    ["", "services.csv: it is empty; write unit,kind,at in its first line"],
    [
      "unit,at\nLM-01,2026-05-02T09:00:00Z",
      "services.csv:1 has no column kind; write unit,kind,at in its first line",
    ],
    [
      'unit,kind,at\nLM-01,"clean',
      "services.csv:2 is not CSV: a quote is not closed or stands inside a cell; write unit,kind,at",
    ],
    [
      "unit,kind,at\n\nLM-3,repair,2026-05-02T09:00:00Z",
      "services.csv:3 unit: 'LM-3' is no unit of this fleet; its units are LM-01, LM-02",
    ],
    [
      "unit,kind,at\nLM-01,clean,2026-05-02T09:00:00Z",
      "services.csv:2 kind: 'clean' is not a kind of service; write cleaning",
    ],
    [
      "unit,kind,at\nLM-01,planned stop done,2026-05-02T09:00:00Z",
      "services.csv:2 kind: 'planned stop done' is not a kind of service; write planned stop end",
    ],
    [
      "unit,kind,at\nLM-01,repair,2026-05-02 09:00",
      "services.csv:2 at: '2026-05-02 09:00' is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "unit,kind,at\nLM-01,repair",
      "services.csv:2 at: nothing is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "unit,kind,at\nLM-01,baseline,2026-05-02T09:00:00Z",
      "services.csv:2 kind: 'baseline' is not a kind of service; write baseline confirm",
    ],
    [
      "unit,kind,at,until\nLM-01,repair end,2026-05-02T09:00:00Z,2026-05-03T09:00:00Z",
      "services.csv:2 until: only what begins has an end of its own; write it at a begin, or leave it out",
    ],
    [
      "unit,kind,at,until\nLM-01,repair begin,2026-05-02T09:00:00Z,2026-05-02T09:00:00Z",
      "services.csv:2 until: '2026-05-02T09:00:00Z' is not after 'at'; write a later time",
    ],
    [
      "unit,kind,at,until\nLM-01,repair begin,2026-05-02T09:00:00Z,noon",
      "services.csv:2 until: 'noon' is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "unit,kind,at\n\u001b[2J,repair,2026-05-02T09:00:00Z",
      "services.csv:2 unit: '␛[2J' is no unit of this fleet; its units are LM-01, LM-02",
    ],
  ])("%j is told in one line", (csv, line) => {
    expect(readServices(csv, "services.csv", fleet)).toEqual({ problems: [line] });
  });
});

describe("a work that ends by itself", () => {
  const at = (hour: number) => Date.parse("2026-05-04T00:00:00Z") + hour * 3_600_000;
  const record = (
    work: ServiceRecord["work"],
    step: ServiceRecord["step"],
    hour: number,
    until?: number,
    unit = "LM-01",
  ): ServiceRecord => ({
    unit,
    work,
    step,
    atMs: at(hour),
    ...(until !== undefined && { untilMs: at(until) }),
  });
  const lapses = (...records: readonly ServiceRecord[]) =>
    withLapses(records)
      .filter(({ step }) => step === "lapse")
      .map(({ unit, work, atMs }) => `${unit} ${work} ${(atMs - at(0)) / 3_600_000}`);

  test("lapses at its time, where nobody ended it before", () => {
    expect(lapses(record("repair", "begin", 1, 5))).toEqual(["LM-01 repair 5"]);
    expect(lapses(record("repair", "begin", 1, 5), record("repair", "end", 6))).toEqual(["LM-01 repair 5"]);
    expect(lapses(record("repair", "begin", 1, 5), record("repair", "end", 4))).toEqual([]);
    expect(lapses(record("repair", "begin", 1))).toEqual([]);
  });

  test("is not ended by another work or unit, nor by one that was done meanwhile", () => {
    const others = [record("cleaning", "end", 4), record("repair", "end", 4, undefined, "LM-02")];
    expect(lapses(record("repair", "begin", 1, 5), ...others, record("repair", "done", 3))).toEqual([
      "LM-01 repair 5",
    ]);
  });

  test("goes on as long as the later of two begins says", () => {
    expect(lapses(record("repair", "begin", 1, 5), record("repair", "begin", 4, 8))).toEqual([
      "LM-01 repair 8",
    ]);
    expect(lapses(record("repair", "begin", 1, 5), record("repair", "begin", 4))).toEqual([]);
  });

  test("lapses after what begins at that moment, so that there is no gap", () => {
    const steps = withLapses([record("repair", "begin", 1, 5), record("cleaning", "begin", 5)]);
    expect(steps.map(({ work, step }) => `${work} ${step}`)).toEqual([
      "repair begin",
      "cleaning begin",
      "repair lapse",
    ]);
  });

  test("whatever is on record: told twice it is the same, in order, and no record is lost", () => {
    const any = fc.record({
      unit: fc.constantFrom("LM-01", "LM-02"),
      work: fc.constantFrom<ServiceRecord["work"]>("repair", "planned stop"),
      step: fc.constantFrom<ServiceRecord["step"]>("begin", "begin", "end", "done"),
      atMs: fc.integer({ min: 0, max: 9 }).map(at),
      untilMs: fc.option(fc.integer({ min: 1, max: 12 }).map(at), { nil: undefined }),
    });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 8 }), (records) => {
        const once = withLapses(records);
        expect(withLapses(once)).toEqual(once);
        expect(once.map(({ atMs }) => atMs)).toEqual(once.map(({ atMs }) => atMs).toSorted((a, b) => a - b));
        expect(new Set(once.filter(({ step }) => step !== "lapse"))).toEqual(new Set(records));
      }),
    );
  });
});

test("a planned stop lies ahead until it begins, and not once it was taken back", () => {
  const stop = { unit: "LM-01", work: "planned stop", step: "begin", atMs: 1000, untilMs: 9000 } as const;
  const cleaning = { ...stop, work: "cleaning" } as const;
  expect(stopsAhead([cleaning, { ...stop, atMs: 2000 }, stop], 999)).toEqual([stop, { ...stop, atMs: 2000 }]);
  expect(stopsAhead([stop], 1000)).toEqual([]);
  expect(stopsAhead([stop, takeBack(stop, 500)], 600)).toEqual([]);
});

test("a work is open from its begin until it is ended, lapses or is taken back; one put on record as done ends none", () => {
  const begun = { unit: "LM-01", work: "repair", step: "begin", atMs: 1000, untilMs: 9000 } as const;
  const open = (nowMs: number, ...records: readonly ServiceRecord[]) =>
    openWorks(withLapses(records), nowMs).map(({ work, atMs }) => [work, atMs]);
  expect([999, 1000, 8999, 9000].map((nowMs) => open(nowMs, begun).length)).toEqual([0, 1, 1, 0]);
  expect(open(3000, begun, { ...begun, step: "done", atMs: 2000 })).toEqual([["repair", 1000]]);
  expect(open(3000, begun, { ...begun, step: "end", atMs: 2000 })).toEqual([]);
  expect(open(3000, begun, takeBack(begun, 2000))).toEqual([]);
  expect(open(9500, begun, { ...begun, atMs: 5000, untilMs: 12000 })).toEqual([["repair", 5000]]);
  expect(open(3000, begun, { ...begun, work: "cleaning", atMs: 2000 })).toEqual([
    ["repair", 1000],
    ["cleaning", 2000],
  ]);
});
