import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/terms/events.ts";
import {
  clean,
  hourClean,
  lines,
  midnight,
  readings,
  run,
  type Stretch,
  start,
  told,
  unitOf,
  type Values,
} from "../support/unit-days.ts";

const stopped: Values = { motor_current: 0, suction_pressure: -1, discharge_pressure: 0, gas_pressure: 0 };
const always = unitOf("{ id: LM-01, runs: always, ozone: none }");

/** Runs and rests in turn; it begins with a rest. */
const cycling = (offS: number, onS: number, hours: number): Stretch => ({
  seconds: hours * 3600,
  values: (s) => (s % (offS + onS) < offS ? stopped : { ...clean(s), ozone: undefined }),
});
const hourOn: Stretch = { seconds: 3600, values: (s) => ({ ...clean(s), ozone: undefined }) };

describe("short-cycling", () => {
  it("is raised at the start that is one too many within an hour", () => {
    expect(told(unitOf(), [hourClean, cycling(90, 150, 1)])[0]).toBe("01:25:30 raised short-cycling");
  });

  it("keeps to what the motor's maker allows", () => {
    const frequent = unitOf("{ id: LM-01, motor: { starts_per_hour: 20 } }");
    expect(told(frequent, [hourClean, cycling(240, 60, 1)])).toEqual([]);
  });

  it("says how many starts there were, and how many there may be", () => {
    const batch = readings([hourClean, cycling(90, 150, 1)]);
    const [finding] = run(start(unitOf()), { kind: "readings", batch });
    expect(finding.message).toBe("The motor started 7 times within an hour; it may 6 times.");
    expect(finding.evidence).toEqual({ starts_in_last_hour: { value: 7, limit: 6, unit: "" } });
  });

  it("knows a thermal protector's rhythm at the third stop, and then tells it alone", () => {
    expect(told(always, [hourClean, cycling(720, 540, 4)])).toEqual([
      "01:00:30 raised not-running",
      "01:42:00 raised short-cycling",
      "01:42:00 priority-changed short-cycling",
      "01:42:00 suppressed not-running by short-cycling",
    ]);
  });

  it("is over an hour after the last start beyond the limit", () => {
    const findings = told(unitOf(), [hourClean, cycling(90, 150, 1), hourOn, hourOn]);
    expect(findings).toEqual(["01:25:30 raised short-cycling", "02:57:40 cleared short-cycling"]);
  });

  it("is over when somebody has repaired it, and their own starts count for nothing", () => {
    const part = (stretches: readonly Stretch[], after: number) =>
      ({ kind: "readings", batch: readings(stretches, 10, midnight + after * 1000) }) as const;
    const service = (step: "begin" | "end", after: number) =>
      ({
        kind: "service",
        record: { unit: "LM-01", work: "repair", step, atMs: midnight + after * 1000 },
      }) as const;
    const findings = run(
      start(unitOf()),
      part([hourClean, cycling(90, 150, 1)], 0),
      service("begin", 7200),
      part([cycling(60, 60, 0.25)], 7200),
      service("end", 8100),
      part([{ seconds: 60, values: stopped }, hourOn], 8100),
    );
    expect(lines(findings)).toEqual([
      "01:25:30 raised short-cycling",
      "02:00:00 suppressed short-cycling by service",
      "02:15:00 cleared short-cycling",
    ]);
  });

  it("counts an hour's starts, not a day's", () => {
    expect(told(unitOf(), [hourClean, cycling(1200, 600, 6)])).toEqual([]);
  });

  it("is over with a repair that is noted afterwards", () => {
    const record = { unit: "LM-01", work: "repair", step: "done", atMs: midnight + 7_200_000 } as const;
    const batch = readings([hourClean, cycling(90, 150, 1)]);
    const findings = run(start(unitOf()), { kind: "readings", batch }, { kind: "service", record });
    expect(lines(findings).at(-1)).toBe("02:00:00 cleared short-cycling");
  });

  it("is not raised by daily windows, by uneven stops, or by a pump that is stopped now and then", () => {
    const windows = unitOf(
      '{ id: LM-01, ozone: none, runs: ["01:30-02:00", "02:30-03:00", "03:30-04:00", "04:30-05:00"] }',
    );
    expect(told(windows, [hourOn, cycling(1800, 1800, 5)])).toEqual([]);
    const uneven: Stretch[] = [300, 900, 400, 1500].flatMap((offS) => [
      cycling(offS, 0, offS / 3600),
      hourOn,
    ]);
    expect(told(always, [hourOn, ...uneven]).filter((line) => line.includes("short"))).toEqual([]);
  });

  it("finds no rhythm across a gap in the log, which may hide a stop", () => {
    const { timeMs, columns, rows } = readings([hourOn, cycling(720, 540, 0.9)]);
    const kept = Array.from({ length: rows }, (_, row) => row).filter((row) => row < 500 || row >= 520);
    const batch = {
      rows: kept.length,
      timeMs: Float64Array.from(kept, (row) => timeMs[row]),
      columns: columns.map((column) => column && Float64Array.from(kept, (row) => column[row])),
    };
    const short = (findings: readonly Finding[]) => lines(findings).filter((line) => line.includes("short"));
    expect(short(run(start(always), { kind: "readings", batch: { rows, timeMs, columns } }))).toContainEqual(
      expect.stringMatching(/raised short-cycling/),
    );
    expect(short(run(start(always), { kind: "readings", batch }))).toEqual([]);
  });
});
