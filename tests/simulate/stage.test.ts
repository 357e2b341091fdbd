import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readFleet } from "../../src/fleet/read.ts";
import { wantedRunning } from "../../src/fleet/schedule.ts";
import { recordedEndMs, sampleIntervalMs } from "../../src/simulate/recorded-day.ts";
import { demoShiftMs, stageDemo } from "../../src/simulate/stage.ts";

const samples = join(import.meta.dirname, "../../sample-logs");
/** In winter time, and at another hour of the day than the recorded end. */
const nowMs = Date.UTC(2027, 0, 12, 3, 17, 44);
let into = "";
let staged = { fleetPath: "", shiftMs: 0 };

beforeAll(async () => {
  into = mkdtempSync(join(tmpdir(), "tarnwatch-stage-"));
  staged = await stageDemo({ samples, into, nowMs });
});
afterAll(() => rmSync(into, { recursive: true, force: true }));

function lines(folder: string, path: string): string[] {
  const bytes = readFileSync(join(folder, "logs", path));
  return (path.endsWith(".gz") ? gunzipSync(bytes) : bytes).toString("utf8").split("\n");
}

function logs(folder: string): string[] {
  return readdirSync(join(folder, "logs"), { recursive: true, encoding: "utf8" })
    .filter((path) => /\.csv(\.gz)?$/.test(path))
    .sort();
}

const clockOf: Readonly<Record<string, (cell: string) => number>> = {
  // Chicago: −5 h in May, −6 h in January.
  "QM-05.csv.gz": (cell) =>
    Date.parse(`${cell.replace(" ", "T")}${cell.startsWith("2026") ? "-05:00" : "-06:00"}`),
  "AC-01.csv.gz": (cell) =>
    Date.parse(`${cell.replace(" ", "T")}${cell.startsWith("2026") ? "-05:00" : "-06:00"}`),
  "PW-02.csv.gz": (cell) => Number(cell) * 1000,
};

describe("the staged demo", () => {
  test("is moved by whole sample intervals, so that the day ends now", () => {
    expect(staged.shiftMs % sampleIntervalMs).toBe(0);
    expect(nowMs - (recordedEndMs + staged.shiftMs)).toBeGreaterThanOrEqual(0);
    expect(nowMs - (recordedEndMs + staged.shiftMs)).toBeLessThan(sampleIntervalMs);
    expect(demoShiftMs(recordedEndMs)).toBe(0);
  });

  test("has every log with its lines as they were but for the time, in every dialect", () => {
    expect(logs(into)).toEqual(logs(samples));
    let moved = 0;
    for (const path of logs(samples)) {
      const from = lines(samples, path);
      const to = lines(into, path);
      expect(to).toHaveLength(from.length);
      expect(to[0]).toBe(from[0]);
      const clock = clockOf[path] ?? Date.parse;
      for (let i = 1; i < from.length; i++) {
        const [, timeFrom = "", rest] = /^([^,;]*)(.*)$/s.exec(from[i] ?? "") ?? [];
        const [, timeTo = "", restTo] = /^([^,;]*)(.*)$/s.exec(to[i] ?? "") ?? [];
        expect(restTo === rest).toBe(true);
        if (from[i] === "" || from[i]?.includes("\u0007")) {
          expect(to[i]).toBe(from[i]);
          continue;
        }
        if (clock(timeTo) - clock(timeFrom) !== staged.shiftMs)
          expect.fail(`${path}: ${timeFrom} became ${timeTo}`);
        moved += 1;
      }
    }
    expect(moved).toBeGreaterThan(60_000);
  });

  test("ends within a minute before now", () => {
    const last = lines(into, "QM-01.csv").at(-2)?.split(",")[0] ?? "";
    expect(nowMs - Date.parse(last)).toBeGreaterThanOrEqual(0);
    expect(nowMs - Date.parse(last)).toBeLessThan(60_000);
  });

  test("has a fleet file that reads, whose windows hold the units' running as before", () => {
    const read = (path: string, folder: string) => {
      const result = readFleet(readFileSync(path, "utf8"), { path, folder }, {});
      if ("problems" in result) throw new Error(result.problems.join("\n"));
      return result.fleet;
    };
    const recorded = read(join(samples, "fleet.yaml"), samples);
    const moved = read(staged.fleetPath, into);
    expect(moved.units).toHaveLength(24);
    for (const [i, unit] of recorded.units.entries()) {
      const now = moved.units[i];
      if (now === undefined) throw new Error(`${unit.id} is missing`);
      const before = wantedRunning(unit, recorded.timezone);
      const after = wantedRunning(now, moved.timezone);
      for (let t = recordedEndMs - 24 * 3_600_000; t <= recordedEndMs; t += 600_000) {
        // A moved window begins on the whole minute: look a minute past the grid.
        expect(after(t + 60_000 + staged.shiftMs), `${unit.id} ${t}`).toBe(before(t + 60_000));
      }
      expect(now.baseline?.fromMs).toBe(unit.baseline && unit.baseline.fromMs + staged.shiftMs);
    }
    expect(moved.services.map((record) => record.atMs - staged.shiftMs)).toEqual(
      recorded.services.map((record) => record.atMs),
    );
  });
});
