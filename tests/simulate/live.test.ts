import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { startLive } from "../../src/simulate/live.ts";
import { recordedEndMs } from "../../src/simulate/recorded-day.ts";
import { stageDemo } from "../../src/simulate/stage.ts";

const samples = join(import.meta.dirname, "../../sample-logs");
const endMs = Date.UTC(2026, 5, 10, 9, 30, 12);
const speed = 30;
let folder = "";
let shiftMs = 0;
let wallMs = 0;

/** The demo fleet, staged once and copied for each run. */
const staged = mkdtempSync(join(tmpdir(), "tarnwatch-staged-"));
beforeAll(async () => {
  ({ shiftMs } = await stageDemo({ samples, into: staged, nowMs: endMs }));
});
afterAll(() => rmSync(staged, { recursive: true, force: true }));

function begin() {
  folder = mkdtempSync(join(tmpdir(), "tarnwatch-live-"));
  cpSync(staged, folder, { recursive: true });
  wallMs = 0;
  vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
}
function end() {
  vi.useRealTimers();
  rmSync(folder, { recursive: true, force: true });
}

function start(onError?: (error: unknown) => void) {
  return startLive({ fleetFolder: folder, endMs, speed, seed: 5, clock: () => wallMs, onError });
}

/** Lets the wall clock run, the timer at each 200 ms. */
function pass(seconds: number) {
  for (let i = 0; i < seconds * 5; i++) {
    wallMs += 200;
    vi.advanceTimersByTime(200);
  }
}

interface Row {
  readonly timeMs: number;
  readonly cells: readonly number[];
  readonly ozone: string;
}

/** Rows of a unit that logs the default header. */
function rows(path: string): Row[] {
  const bytes = readFileSync(join(folder, "logs", path));
  const text = (path.endsWith(".gz") ? gunzipSync(bytes) : bytes).toString("utf8");
  const read = text
    .split("\n")
    .slice(1, -1)
    .map((line) => line.split(","));
  return read.map(([time = "", ...cells]) => ({
    timeMs: Date.parse(time),
    cells: cells.slice(0, 5).map(Number),
    ozone: cells[5] ?? "",
  }));
}

/** Reading `cell` of a unit some seconds of wall time after the start. */
function cellAt(path: string, cell: number, seconds: number): number {
  const row = rows(path).findLast(({ timeMs }) => timeMs <= endMs + seconds * speed * 1000);
  return row?.cells[cell] ?? Number.NaN;
}
const [current, temperature, , discharge] = [0, 1, 2, 3];

describe("five minutes of the live demo, two and a half hours of its units", () => {
  beforeAll(() => {
    begin();
    const live = start();
    pass(295);
    live.stop();
  });
  afterAll(end);

  test("a unit goes on at its interval from where its recorded day ended, without a step", () => {
    const files: readonly (readonly [string, string])[] = [
      ["AC-03.csv", "AC-03.csv"],
      ["OX-03.csv", "OX-03.csv"],
      ["QM-01.csv", "QM-01.csv"],
      ["SB-01.csv.gz", "SB-01-new.csv"],
      ["QM-02.csv.gz", "QM-02-new.csv"],
      ["OX-02.csv.gz", "OX-02-new.csv"],
      ["FP-01.csv.gz", "FP-01-new.csv"],
    ];
    // Six times the noise of each instrument between two readings.
    const steps = [0.6, 0.8, 2.2, 7, 5];
    for (const [history, grown] of files) {
      const all = history === grown ? rows(grown) : [...rows(history), ...rows(grown)];
      const at = all.findIndex(({ timeMs }) => timeMs > recordedEndMs + shiftMs);
      expect(at, grown).toBeGreaterThan(2000);
      for (let i = at - 3; i < at + 5; i++) {
        const [before, after] = [all[i - 1], all[i]];
        if (before === undefined || after === undefined) throw new Error(`${grown} ends too soon`);
        expect(after.timeMs - before.timeMs, grown).toBe(30_000);
        expect(after.ozone, grown).toBe(before.ozone);
        for (const [k, step] of steps.entries()) {
          expect(Math.abs((after.cells[k] ?? 0) - (before.cells[k] ?? 0)), `${grown} ${k}`).toBeLessThan(
            step,
          );
        }
      }
    }
  });
  test("within two minutes units that were well lose prime, ozone, power and cooling", () => {
    expect(cellAt("QM-01.csv", discharge ?? 3, 14)).toBeGreaterThan(90);
    expect(cellAt("QM-01.csv", discharge ?? 3, 20)).toBeLessThan(10);
    expect(cellAt("QM-01.csv", current ?? 0, 20)).toBeGreaterThan(9);

    const ozone = rows("QM-02-new.csv").filter(({ ozone: state }) => state === "off");
    expect((ozone[0]?.timeMs ?? 0) - endMs).toBeCloseTo(17.5 * 60_000, -5);
    expect(cellAt("QM-02-new.csv", discharge ?? 3, 60)).toBeGreaterThan(80);

    expect(cellAt("OX-04-new.csv", current ?? 0, 58)).toBeGreaterThan(5);
    expect(cellAt("OX-04-new.csv", current ?? 0, 62)).toBeLessThan(0.1);

    const resting = rows("AC-02-new.csv").filter(
      ({ timeMs, cells }) => timeMs < endMs + 120 * speed * 1000 && (cells[0] ?? 9) < 0.1,
    );
    expect((resting[0]?.timeMs ?? 0) - endMs).toBeLessThan(60 * speed * 1000);
    expect(new Set(resting.map(({ ozone: state }) => state))).toEqual(new Set(["on"]));

    expect(cellAt("OX-03.csv", temperature ?? 1, 0)).toBeLessThan(70);
    expect(cellAt("OX-03.csv", temperature ?? 1, 90)).toBeGreaterThan(90);
  });
  test("what failed is seen to: prime, ozone, power and cooling come back within the hour", () => {
    expect(cellAt("QM-01.csv", discharge ?? 3, 290)).toBeGreaterThan(90);
    expect(cellAt("OX-04-new.csv", current ?? 0, 290)).toBeGreaterThan(5);
    expect(cellAt("AC-03.csv", temperature ?? 1, 290)).toBeLessThan(75);
    expect(rows("FP-03-new.csv").length).toBeGreaterThan(100);
    expect(rows("OX-02-new.csv").at(-1)?.ozone).toBe("on");
  });
  test("a visit to a pump that lost its prime switches it off for a minute", () => {
    const visit = rows("QM-01.csv").filter(
      ({ timeMs, cells }) => timeMs > endMs && timeMs < endMs + 67 * 60_000 && (cells[0] ?? 9) < 0.1,
    );
    expect(visit).toHaveLength(2);
    expect((visit[0]?.timeMs ?? 0) - endMs).toBeGreaterThan(64 * 60_000);
  });
  test("a unit that sends whole files sends one each half hour of log time, with nothing missing between", () => {
    const sent = readdirSync(join(folder, "logs/SB-04")).sort();
    expect(sent.slice(-2)).toEqual(["delivery-051.csv.gz", "delivery-052.csv.gz"]);
    expect(sent.some((name) => name.endsWith(".part"))).toBe(false);
    const times = sent.flatMap((name) => rows(`SB-04/${name}`)).map(({ timeMs }) => timeMs);
    expect(new Set(times.slice(1).map((time, i) => time - (times[i] ?? 0)))).toEqual(new Set([30_000]));
  });
});

describe("the live demo", () => {
  beforeEach(begin);
  afterEach(end);

  test("one reading of each logging unit arrives a second", () => {
    const live = start();
    pass(10);
    live.stop();
    const grown = rows("QM-01.csv").filter(({ timeMs }) => timeMs > recordedEndMs + shiftMs);
    expect(grown.length).toBeGreaterThanOrEqual(10);
    expect(grown.length).toBeLessThanOrEqual(11);
  });
  test("new files begin with their header, in their logger's dialect; the unit without a log gets none", () => {
    const live = start();
    pass(3);
    live.stop();
    const head = (path: string) => readFileSync(join(folder, "logs", path), "utf8").split("\n")[0];
    expect(head("QM-05-new.csv")).toMatch(/^Timestamp,Motor_Current_A,/);
    expect(head("AC-01-new.csv")).toMatch(/^\uFEFFdatetime;.*\r$/);
    expect(readdirSync(join(folder, "logs")).some((name) => name.startsWith("SB-05"))).toBe(false);
    expect(readdirSync(join(folder, "logs")).some((name) => name.startsWith("FP-03-new"))).toBe(false);
  });
  test("missed ticks are caught up to the same readings, a bounded number at a time", () => {
    const steady = start();
    pass(60);
    steady.stop();
    const expected = readFileSync(join(folder, "logs/QM-03-new.csv"), "utf8");
    rmSync(join(folder, "logs/QM-03-new.csv"));
    wallMs = 0;
    const late = start();
    wallMs = 59_800;
    pass(0.2);
    late.stop();
    expect(readFileSync(join(folder, "logs/QM-03-new.csv"), "utf8")).toBe(expected);

    rmSync(join(folder, "logs/QM-03-new.csv"));
    const slept = start();
    wallMs += 3_600_000;
    vi.advanceTimersByTime(200);
    const caughtUp = rows("QM-03-new.csv").length;
    slept.stop();
    expect(caughtUp).toBe(120);
  });
  test("stop leaves no timer and writes nothing more", () => {
    const live = start();
    pass(5);
    live.stop();
    expect(vi.getTimerCount()).toBe(0);
    const before = readFileSync(join(folder, "logs/QM-01.csv"), "utf8");
    pass(5);
    expect(readFileSync(join(folder, "logs/QM-01.csv"), "utf8")).toBe(before);
  });
  test("a folder that has gone stops it and is told once", () => {
    const errors: unknown[] = [];
    start((error) => errors.push(error));
    rmSync(join(folder, "logs"), { recursive: true });
    writeFileSync(join(folder, "logs"), "");
    pass(5);
    expect(errors).toHaveLength(1);
    expect(vi.getTimerCount()).toBe(0);
  });
});
