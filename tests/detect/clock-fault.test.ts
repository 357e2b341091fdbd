import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { encodeUnit } from "../../src/collector/checkpoint.ts";
import { play, startPlayer } from "../../src/collector/play.ts";
import type { Input } from "../../src/engine.ts";
import { fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf, readAlone } from "../support/played.ts";
import { folderWith } from "../support/program.ts";
import {
  clean,
  hourClean,
  lines,
  midnight,
  readings,
  run,
  start,
  told,
  unitOf,
} from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01 }");
const second = 1000;
const minute = 60 * second;
const hourEndMs = midnight + 3590 * second;
const hour: Input = { kind: "readings", batch: readings([hourClean]) };
const more = (fromMinute: number, minutes: number): Input => ({
  kind: "readings",
  batch: readings([{ seconds: minutes * 60, values: clean }], 10, midnight + fromMinute * minute),
});

/** Readings every 10 s whose times begin `backMs` before the hour's end. */
const late = (backMs: number, count: number): Input => ({
  kind: "late",
  rows: {
    timeMs: Float64Array.from({ length: count }, (_, k) => hourEndMs - backMs + k * 10 * second),
    afterMs: new Float64Array(count).fill(hourEndMs),
  },
});

describe("a logger's clock that steps back", () => {
  it("is told after a minute of readings with times that had been before, and is over when they are in order", () => {
    const findings = run(start(unit), hour, late(20 * minute, 120), more(60, 30));
    expect(lines(findings)).toEqual(["01:00:50 raised clock-fault", "01:10:00 cleared clock-fault"]);
    expect(findings[0]).toMatchObject({ priority: "low", sinceMs: hourEndMs });
    expect(findings[0].message).toContain("stepped back by 20 min");
    expect(findings[0].evidence.clock_behind_by).toMatchObject({ value: 1210, unit: "s" });
  });

  it.each<[string, Input]>([
    ["a few rows that were written late", late(5 * minute, 2)],
    ["rows that are out of order by a minute", late(minute, 60)],
    [
      "rows that only carry other channels",
      {
        kind: "late",
        rows: {
          timeMs: Float64Array.from({ length: 60 }, (_, k) => midnight + k * 10 * second),
          afterMs: new Float64Array(60).fill(Number.NaN),
        },
      },
    ],
  ])("is not taken for %s", (_name, input) => {
    expect(run(start(unit), hour, input, more(60, 10))).toEqual([]);
  });

  it("is not taken for a file that was delivered late for a span without readings", () => {
    const gap = more(120, 10);
    const fromMs = midnight + 70 * minute;
    const missed: Input = {
      kind: "late",
      rows: {
        timeMs: Float64Array.from({ length: 120 }, (_, k) => fromMs + k * 10 * second),
        afterMs: new Float64Array(120).fill(midnight + 130 * minute - 10 * second),
      },
    };
    expect(run(start(unit), hour, gap, missed, more(130, 10))).toEqual([]);
  });

  it("keeps readings-stale for itself while readings come, and leaves it to tell when none do", () => {
    const state = start(unit);
    const findings = run(
      state,
      hour,
      late(20 * minute, 12),
      { kind: "arrived", timeMs: hourEndMs + 110 * second },
      { kind: "clock", timeMs: hourEndMs + 120 * second },
      { kind: "clock", timeMs: hourEndMs + 10 * minute },
    );
    expect(lines(findings)).toEqual([
      "01:00:50 raised clock-fault",
      "01:00:50 priority-changed clock-fault",
      "01:00:50 suppressed readings-stale by clock-fault",
      "01:02:40 cleared clock-fault",
      "01:02:40 unsuppressed readings-stale",
    ]);
  });

  it("is read from a log as it was written, and told the same at every split", async () => {
    const [header, ...rows] = logText(readings([hourClean, { seconds: 1200, values: clean }]))
      .trimEnd()
      .split("\n");
    // An hour, then the clock is set back by 20 min and runs on for 40.
    const again = logText(
      readings([{ seconds: 2400, values: clean }], 10, midnight + 40 * minute + 5 * second),
    );
    const text = [header, ...rows.slice(0, 360), ...again.trimEnd().split("\n").slice(1)].join("\n");
    const folder = folderWith({ "logs/LM-01.csv": `${text}\n` });
    const fleet = fleetOf(fleetFile(["{ id: LM-01 }"]), folder);
    const read = await readAlone({ ...fleet, logs: join(folder, "logs") });
    expect(lines(read.findings)).toEqual(["01:00:50 raised clock-fault", "01:09:55 cleared clock-fault"]);
  });

  it("is told the same however readings and late rows are split", () => {
    const { batch } = hour as Extract<Input, { kind: "readings" }>;
    const arbitrary = fc.record({
      afterRow: fc.integer({ min: 60, max: 359 }),
      backMs: fc.integer({ min: 0, max: 30 }).map((m) => m * minute),
      count: fc.integer({ min: 0, max: 40 }),
      cut: fc.integer({ min: 0, max: 360 }),
    });
    fc.assert(
      fc.property(arbitrary, ({ afterRow, backMs, count, cut }) => {
        const afterMs = batch.timeMs[afterRow];
        const rows = {
          timeMs: Float64Array.from({ length: count }, (_, k) => afterMs - backMs + k * 10 * second),
          afterMs: new Float64Array(count).fill(afterMs),
        };
        const part = (from: number, to: number) => ({
          rows: to - from,
          timeMs: batch.timeMs.slice(from, to),
          columns: batch.columns.map((column) => column?.slice(from, to)),
        });
        const whole = startPlayer(start(unit), []);
        const split = startPlayer(start(unit), []);
        const before = cut > afterRow;
        const findings = [
          ...play(split, part(0, cut), true, before ? rows : undefined),
          ...play(split, part(cut, batch.rows), true, before ? undefined : rows),
        ];
        expect(findings).toEqual(play(whole, batch, true, rows));
        expect(encodeUnit(split.state)).toBe(encodeUnit(whole.state));
      }),
      { numRuns: 100 },
    );
  });
});

describe("a logger's clock held against the collector's", () => {
  const at = (state: ReturnType<typeof start>, lagMs: number, minutes: number) => {
    const inputs: Input[] = [];
    for (let m = 0; m < minutes; m++) {
      const { timeMs } = (hour as Extract<Input, { kind: "readings" }>).batch;
      const batch = readings([{ seconds: 60, values: clean }], 10, timeMs[359] + 10 * second + m * minute);
      const now = batch.timeMs[5] + lagMs;
      inputs.push(
        { kind: "readings", batch },
        { kind: "arrived", timeMs: now },
        { kind: "clock", timeMs: now },
      );
    }
    return run(state, ...inputs);
  };

  it("lags where readings that have just come are old each time, by the same", () => {
    const state = start(unit);
    run(state, hour);
    const findings = at(state, 5 * 60 * minute, 15);
    expect(
      lines(findings).filter((line) => line.includes("clock-fault") && line.includes("raised")),
    ).toHaveLength(1);
    const raised = findings.find(({ alarm }) => alarm === "clock-fault");
    expect(raised?.message).toMatch(/are 5 h old each time/);
    expect((raised?.timeMs ?? 0) - (raised?.sinceMs ?? 0)).toBe(10 * minute);
    expect(lines(findings).join()).not.toContain("raised readings-stale");
  });

  it("does not lag where a backlog is sent, nor by an ordinary delay", () => {
    const state = start(unit);
    run(state, hour);
    expect(lines(at(state, 30 * second, 20))).toEqual([]);
  });

  it("is ahead where the newest reading is, by two minutes and more, until time has caught up", () => {
    const state = start(unit);
    const findings = run(
      state,
      hour,
      { kind: "clock", timeMs: hourEndMs - 29 * minute },
      { kind: "clock", timeMs: hourEndMs - 90 * second },
      { kind: "clock", timeMs: hourEndMs - 30 * second },
    );
    expect(findings.map(({ event, alarm }) => `${event} ${alarm}`)).toEqual([
      "raised clock-fault",
      "cleared clock-fault",
    ]);
    expect(findings[0].message).toContain("29 min ahead of the clock here");
  });

  it("is wrong where rows are refused for being too far ahead, but not for one of them", () => {
    const refused: Input = {
      kind: "refused",
      timeMs: hourEndMs,
      readingMs: hourEndMs + 40 * 24 * 60 * minute,
    };
    expect(run(start(unit), hour, refused, more(60, 1), refused, more(61, 1))).toEqual([]);
    const [finding] = run(start(unit), hour, refused, refused, refused);
    expect(finding).toMatchObject({ alarm: "clock-fault", event: "raised" });
    expect(finding.message).toContain("40 d ahead");
  });
});

it("clocks that differ by less than is set are nothing to tell of", () => {
  const patient = unitOf("{ id: LM-01, limits: { clock-fault: { back: 30 min } } }");
  expect(run(start(patient), hour, late(20 * minute, 120), more(60, 5))).toEqual([]);
  expect(told(patient, [hourClean])).toEqual([]);
});
