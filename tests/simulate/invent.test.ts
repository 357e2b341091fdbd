import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, test } from "vitest";
import { faultNames } from "../../src/simulate/fault-kinds.ts";
import { inventFleet } from "../../src/simulate/invent.ts";
import type { Invention } from "../../src/simulate/invention.ts";
import { writeFleet } from "../../src/simulate/write-fleet.ts";
import { day, minute, second } from "../../src/terms/time.ts";

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

const usual: Invention = {
  units: 4,
  days: 2,
  intervalMs: 30 * second,
  seed: 7,
  fromMs: Date.parse("2026-05-04T00:00:00Z"),
  faults: "all",
};

/** The true faults of a fleet, and where its files lie. */
function wrote(change: Partial<Invention> = {}) {
  const invention = { ...usual, ...change };
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-"));
  folders.push(folder);
  const writing = writeFleet(folder, inventFleet(invention), invention);
  for (;;) {
    const next = writing.next();
    if (next.done) return { faults: next.value, folder };
  }
}

function written(change: Partial<Invention> = {}) {
  const { faults, folder } = wrote(change);
  const names = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) => name !== "logs");
  const files = Object.fromEntries(
    names.sort().map((name) => [name, readFileSync(join(folder, name), "utf8")]),
  );
  return { faults, files };
}

describe("an invented fleet", () => {
  test("is the same to the byte for the same seed, and another for another", () => {
    const { files } = written({ intervalMs: minute });
    expect(written({ intervalMs: minute }).files).toEqual(files);
    expect(written({ intervalMs: minute, seed: 8 }).files["truth.csv"]).not.toEqual(files["truth.csv"]);
  });

  test("knows every fault that its sampling can show", () => {
    const { faults } = wrote({ units: 8, days: 14, intervalMs: 3 * minute });
    const shown = new Set(faults.map(({ kind }) => kind));
    expect(faultNames.filter((kind) => !shown.has(kind))).toEqual(["rotor-locked"]);
  });

  test("shows a held rotor where the logger reads every two seconds", () => {
    const faults = [{ kind: "rotor-locked" as const, afterMs: 3 * 3_600_000 }];
    const { files } = written({ units: 1, days: 0.25, intervalMs: 2 * second, faults });
    const currents = files["logs/HA-01.csv"].split("\n").map((line) => Number(line.split(",")[1]));
    expect(Math.max(...currents.filter(Number.isFinite))).toBeGreaterThan(4 * 9.8);
  });

  test("holds a fault that is true in two ways for one, and tells both in the truth", () => {
    const faults = [{ kind: "relay-chattering" as const, severity: 1, afterMs: 12 * 60 * minute }];
    const { faults: told, files } = written({ units: 1, days: 1, faults });
    expect(told.map(({ alarms }) => alarms)).toEqual([["not-running", "short-cycling"]]);
    expect(files["truth.csv"].match(/,relay-chattering$/gm)).toHaveLength(2);
  });

  test("that is clean has no truth to tell, and leaves each unit's first day alone otherwise", () => {
    expect(wrote({ intervalMs: minute, faults: [] }).faults).toEqual([]);
    for (const { startMs } of wrote({ intervalMs: minute, days: 3 }).faults) {
      expect(startMs).toBeGreaterThanOrEqual(usual.fromMs + day);
    }
  });

  test("has the fault that was wished for, when and as bad as wished", () => {
    const faults = [{ kind: "line-parted" as const, severity: 0.7, afterMs: 20 * 60 * minute }];
    const told = wrote({ faults }).faults;
    expect(told).toHaveLength(1);
    expect(told[0].alarms).toEqual(["discharge-open"]);
    expect(told[0].startMs - usual.fromMs - faults[0].afterMs).toBeLessThan(minute);
  });
});
