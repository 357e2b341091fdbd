import { appendFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it, vi } from "vitest";
import { openUnitLog } from "../../src/acquire/unit-log.ts";
import { startCollector } from "../../src/collector/collector.ts";
import type { FleetView, Progress } from "../../src/collector/fleet-view.ts";
import type * as ReadOnce from "../../src/collector/read-once.ts";
import { day } from "../../src/terms/time.ts";
import { fleetFile, primeLost } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith, projectFolder } from "../support/program.ts";
import { clean, midnight, readings } from "../support/unit-days.ts";

const built = join(projectFolder, "dist/collector/read-once.js");

/** So many days of clean running up to midnight as a log in a form that is slow to read. */
function slowLog(days: number): string {
  const text = logText(readings([{ seconds: 86_400 * days, values: clean }], 10, midnight - days * day));
  return text.replaceAll(/^(2\d+[^,]*),/gm, '"$1",');
}

describe("a fleet that catches up", () => {
  it("keeps a unit that is up to now up to now, while another's backlog is still being read", async () => {
    const short = logText(readings(primeLost));
    const folder = folderWith({ "logs/LM-01.csv": slowLog(30), "logs/LM-02.csv": short });
    const file = fleetFile(["{ id: LM-01 }", "{ id: LM-02, motor: { full_load_current: 9.8 A } }"]);
    const fleet = { ...fleetOf(file, folder), logs: join(folder, "logs") };
    const lastMs = midnight + 70 * 60_000;
    const views: FleetView[] = [];
    const collector = await startCollector(
      { fleet, stateFolder: folder, clock: { originMs: lastMs, wallMs: 0, speed: 0 } },
      { onChange: () => views.push(collector?.view()) },
    );
    try {
      const unit = (id: string) => collector.view().units.find((each) => each.id === id);
      await vi.waitFor(() => expect(unit("LM-02")?.catchingUp).toBeUndefined(), 30_000);
      expect(unit("LM-02")?.alarms.map(({ alarm }) => alarm)).toContain("lost-prime");
      expect(unit("LM-01")).toMatchObject({ catchingUp: true, alarms: [] });

      const row = short.trimEnd().split("\n").at(-1) ?? "";
      appendFileSync(
        join(folder, "logs", "LM-02.csv"),
        `${row.replace(/^[^,]+/, new Date(lastMs).toISOString())}\n`,
      );
      await vi.waitFor(() => expect(unit("LM-02")?.lastReadingMs).toBe(lastMs), 30_000);
      expect(collector.view().catchingUp).toBeDefined();
      expect(unit("LM-01")?.catchingUp).toBe(true);
      await vi.waitFor(() => expect(collector.view().catchingUp).toBeUndefined(), 30_000);
      expect(unit("LM-01")?.catchingUp).toBeUndefined();
      expect(unit("LM-01")?.log.rows).toBe(30 * 8640);
    } finally {
      await collector.close();
    }
    const told = views.flatMap(({ catchingUp }) => catchingUp ?? []);
    expect(told.some(({ bytesRead, bytesTotal }) => bytesRead > 0 && bytesRead < bytesTotal)).toBe(true);
    expect(told.map(({ bytesRead }) => bytesRead)).toEqual(
      told.map(({ bytesRead }) => bytesRead).sort((a, b) => a - b),
    );
  });
});

describe("how far a fleet has been read through", () => {
  const log = slowLog(15);

  it.each([1, 2])("is told on %d threads: it rises to no more than all of it", async (threads) => {
    const { readOnce } = (await import(built)) as typeof ReadOnce;
    const folder = folderWith({ "logs/LM-01.csv": log, "logs/LM-02.csv": log });
    const fleet = {
      ...fleetOf(fleetFile(["{ id: LM-01 }", "{ id: LM-02 }"]), folder),
      logs: join(folder, "logs"),
    };
    const told: Progress[] = [];
    await readOnce(fleet, { services: [], threads, onProgress: (progress) => told.push(progress) });
    const read = told.map(({ bytesRead }) => bytesRead);
    expect(read.length).toBeGreaterThan(1);
    expect(read).toEqual(read.toSorted((a, b) => a - b));
    expect(read.some((bytes) => bytes > 0 && bytes < 2 * log.length)).toBe(true);
    expect(
      told.every(({ bytesRead, bytesTotal }) => bytesTotal === 2 * log.length && bytesRead <= bytesTotal),
    ).toBe(true);
  });

  it("counts a compressed log by the bytes it takes on the disk, so that half of it is half of its rows", async () => {
    const days = 10;
    const packed = gzipSync(logText(readings([{ seconds: 86_400 * days, values: wavering }])));
    const folder = folderWith({ "LM-01.csv.gz": packed });
    const fleet = fleetOf(fleetFile(["{ id: LM-01 }"]), folder);
    const log = openUnitLog(fleet.units[0], fleet);
    log.setFiles([join(folder, "LM-01.csv.gz")]);
    let rows = 0;
    for await (const batch of log.read()) {
      rows += batch.rows;
      expect(Math.abs(log.status().bytesRead / packed.length - rows / (8640 * days))).toBeLessThan(0.25);
    }
    expect(rows).toBe(8640 * days);
    expect(log.status().bytesRead).toBe(packed.length);
  });
});

const wavering = (second: number) => ({
  ...clean(second),
  motor_current: 9 + ((second * 7919) % 997) / 1000,
});
