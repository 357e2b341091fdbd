import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { minute } from "../terms/time.ts";
import { playRecordedDay, startDemoUnit } from "./demo-fleet.ts";
import { demoFormats } from "./demo-formats.ts";
import type { DemoUnit } from "./demo-unit.ts";
import { demoUnits } from "./demo-units.ts";
import { demoFleetFile } from "./fleet-file.ts";
import { headerLine } from "./log-format.ts";
import { keepLog } from "./log-keeping.ts";
import { recordedFromMs } from "./recorded-day.ts";
import type { Sample } from "./sensors.ts";

/** How long a delivery of a unit that sends whole files lasts. */
export const deliveryMs = 30 * minute;

/** A file of the sample logs: its path under the log folder, and its text before packing. */
export interface SampleFile {
  readonly path: string;
  readonly text: string;
  readonly packed: boolean;
}

/** The log files of one demo unit over the recorded day. */
export function sampleFiles(unit: DemoUnit): SampleFile[] {
  if (unit.kept === "missing") return [];
  const samples = playRecordedDay(startDemoUnit(unit));
  const format = demoFormats[unit.format];
  const text = (part: readonly Sample[]) =>
    headerLine(format) + keepLog(part, format, unit.blemishes ?? []).join("");
  if (unit.kept === "delivered") {
    return deliveries(samples).map((part, i) => ({
      path: deliveryPath(unit.id, i + 1),
      text: text(part),
      packed: true,
    }));
  }
  const packed = unit.kept === "packed";
  return [{ path: `${unit.id}.csv${packed ? ".gz" : ""}`, text: text(samples), packed }];
}

/** Path of a unit's delivery, counted from 1. */
export function deliveryPath(id: string, number: number): string {
  return `${id}/delivery-${String(number).padStart(3, "0")}.csv.gz`;
}

/**
 * Writes the demo fleet's file and logs into `folder`, in place of any that are there.
 * The same bytes on every run.
 */
export function writeSamples(folder: string): void {
  const logs = join(folder, "logs");
  rmSync(logs, { recursive: true, force: true });
  mkdirSync(logs, { recursive: true });
  writeFileSync(join(folder, "fleet.yaml"), demoFleetFile());
  for (const unit of demoUnits) {
    if (unit.kept === "delivered") mkdirSync(join(logs, unit.id));
    for (const { path, text, packed } of sampleFiles(unit)) {
      writeFileSync(join(logs, path), packed ? packedText(text, 9) : text);
    }
  }
}

/** `text` packed by gzip with nothing of the machine in its header (RFC 1952: no time, unknown system). */
export function packedText(text: string, level: number): Buffer {
  const bytes = gzipSync(text, { level });
  bytes.fill(0, 4, 8);
  bytes[9] = 255;
  return bytes;
}

function deliveries(samples: readonly Sample[]): Sample[][] {
  const parts: Sample[][] = [];
  for (const sample of samples) {
    const number = Math.floor((sample.timeMs - recordedFromMs) / deliveryMs);
    const part = parts[number] ?? [];
    part.push(sample);
    parts[number] = part;
  }
  return parts;
}
