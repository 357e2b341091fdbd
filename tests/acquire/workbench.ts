import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach } from "vitest";
import { bareFleet } from "../../src/acquire/bare-unit.ts";
import { openUnitLog, type UnitLog, type UnitLogState } from "../../src/acquire/unit-log.ts";
import type { ColumnMap, Fleet, Unit } from "../../src/fleet/unit.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { channelIndex, channels } from "../../src/terms/channels.ts";

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A folder of its own that goes after the test. */
export function logFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-logs-"));
  folders.push(folder);
  return folder;
}

export function write(folder: string, name: string, text: string | Buffer): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

export const header = "time,motor_current_a,discharge_pressure_kpa,ozone";

export function startOf(second: number): string {
  return new Date(Date.UTC(2026, 4, 4, 3, 0, second)).toISOString().replace(".000", "");
}

/** Rows for seconds from `from` up to but not `to`, with the second as the motor current. */
export function rowsOf(from: number, to: number): string {
  let text = "";
  for (let second = from; second < to; second++) text += `${startOf(second)},${second},86.4,on\n`;
  return text;
}

const bare = bareFleet("LM-01", tmpdir());

export function unitWith(
  folder: string,
  settings: {
    columns?: ColumnMap;
    timezone?: string;
    orderWithinMs?: number;
    ids?: string[];
    units?: Partial<Unit>[];
  } = {},
): { fleet: Fleet; unit: Unit } {
  const unit = { ...bare.unit, columns: settings.columns ?? bare.unit.columns };
  const others = settings.units ?? (settings.ids ?? []).map((id) => ({ id }));
  return {
    unit,
    fleet: {
      ...bare.fleet,
      logs: folder,
      timezone: settings.timezone ?? "UTC",
      orderWithinMs: settings.orderWithinMs ?? 0,
      units: others.length === 0 ? [unit] : others.map((other) => ({ ...unit, ...other })),
    },
  };
}

export function openLog(
  folder: string,
  settings: Parameters<typeof unitWith>[1] = {},
  saved?: UnitLogState,
): UnitLog {
  const { unit, fleet } = unitWith(folder, settings);
  return openUnitLog(unit, fleet, { saved });
}

/** One reading: its time and the channels that have a value. */
export type Reading = { time: string } & Record<string, number | string>;

export function readingsOf(batch: ReadingBatch | undefined): Reading[] {
  const readings: Reading[] = [];
  for (let row = 0; row < (batch?.rows ?? 0); row++) {
    const reading: Reading = { time: new Date(batch?.timeMs[row] ?? Number.NaN).toISOString() };
    for (const channel of channels) {
      const value = batch?.columns[channelIndex[channel]]?.[row] ?? Number.NaN;
      if (!Number.isNaN(value)) reading[channel] = value;
    }
    readings.push(reading);
  }
  return readings;
}

export async function readAll(log: UnitLog): Promise<Reading[]> {
  const readings: Reading[] = [];
  for await (const batch of log.read()) readings.push(...readingsOf(batch));
  return readings;
}

/** The motor currents of everything new: what a test of files looks at. */
export async function currents(log: UnitLog): Promise<(number | string | undefined)[]> {
  return (await readAll(log)).map((reading) => reading.motor_current);
}
