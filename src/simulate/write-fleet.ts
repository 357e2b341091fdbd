import { closeSync, mkdirSync, openSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseWindow } from "../fleet/schedule-schema.ts";
import type { RunSchedule } from "../fleet/unit.ts";
import { day, hour, iso, minute } from "../terms/time.ts";
import { inventedFleetFile, serviceRows } from "./invented-fleet-file.ts";
import type { InventedUnit } from "./invented-unit.ts";
import { endMs, firstReadingMs, type Invention } from "./invention.ts";
import { headerLine, type LogFormat } from "./log-format.ts";
import { keepLog } from "./log-keeping.ts";
import { type Recorder, startRecorder } from "./recorder.ts";
import type { Sample } from "./sensors.ts";
import { buildSkid } from "./skid.ts";
import { startTruth, type TrueFault } from "./truth.ts";
import type { Weather } from "./weather.ts";

/** A warm spring with fronts passing. */
const weather: Weather = { coolestC: 10, hottestC: 24, waterC: 17, localOffsetMs: 0, frontsK: 3 };
const setBackMs = 20 * minute;

/**
 * Writes an invented fleet into a folder that exists: a log a unit, the fleet file, `services.csv` and
 * `truth.csv`. Yields after each day of each unit, so that a caller can show how far it is. Throws what the file
 * system throws.
 */
export function* writeFleet(
  folder: string,
  units: readonly InventedUnit[],
  invention: Invention,
): Generator<{ readonly done: number; readonly of: number; readonly rows: number }, TrueFault[]> {
  writeFileSync(join(folder, "fleet.yaml"), inventedFleetFile(units, invention));
  mkdirSync(join(folder, "logs"), { recursive: true });
  writeFileSync(join(folder, "services.csv"), csv(["unit", "kind", "at"], serviceRows(units)));
  const of = units.length * Math.ceil(invention.days);
  let done = 0;
  let rows = 0;
  const told: { unit: string; fault: TrueFault }[] = [];
  for (const [place, unit] of units.entries()) {
    const recorder = startUnit(unit, place, invention);
    const truth = startTruth(unit);
    const log = openSync(join(folder, "logs", `${unit.id}.csv`), "w");
    const format = formatOf(unit);
    try {
      // Unlike `writeSync`, which may write a part, it writes all or throws.
      writeFileSync(log, headerLine(format));
      for (let dayMs = invention.fromMs; dayMs < endMs(invention); dayMs += day) {
        const samples = record(recorder, truth, Math.min(dayMs + day, endMs(invention)));
        const blemishes = unit.blemishes.filter((b) =>
          within("atMs" in b ? b.atMs : b.fromMs, dayMs, samples),
        );
        writeFileSync(log, keepLog(setBack(samples, unit), format, blemishes).join(""));
        rows += samples.length;
        done += 1;
        yield { done, of, rows };
      }
    } finally {
      closeSync(log);
    }
    told.push(...truth.told(endMs(invention)).map((fault) => ({ unit: unit.id, fault })));
  }
  writeFileSync(join(folder, "truth.csv"), truthText(units, invention, told));
  return told.map(({ fault }) => fault);
}

function startUnit(unit: InventedUnit, place: number, invention: Invention): Recorder {
  const falling = unit.drawDownMPerDay;
  return startRecorder(
    {
      skid: buildSkid(unit.plan),
      runs: scheduleOf(unit),
      weather,
      temperatureAt: unit.temperatureAt,
      sharedOutlet: unit.sharedOutlet,
      intervalMs: invention.intervalMs,
      firstMs: firstReadingMs(invention, place),
      faults: unit.faults,
      stops: unit.stops,
      sags: unit.sags,
      driftKpaPerDay: unit.driftKpaPerDay,
      drawDownM: (timeMs) => Math.max(0, (falling * (timeMs - invention.fromMs)) / day),
    },
    unit.seed,
  );
}

function scheduleOf({ runs }: InventedUnit): RunSchedule {
  if (runs === "always") return { kind: "always" };
  return { kind: "windows", windows: runs.flatMap((text) => parseWindow(text) ?? []) };
}

function record(recorder: Recorder, truth: ReturnType<typeof startTruth>, untilMs: number): Sample[] {
  const samples: Sample[] = [];
  while (recorder.nextMs < untilMs) {
    const sample = recorder.next();
    truth.see(recorder.plant.timeMs, recorder.plant, recorder.wanted);
    if (sample !== undefined) samples.push(sample);
  }
  return samples;
}

/** Late and other spoilt rows need rows about them to stand between. */
function within(atMs: number, dayMs: number, samples: readonly Sample[]): boolean {
  const last = samples.at(-1)?.timeMs ?? 0;
  return atMs >= dayMs && atMs < dayMs + day && atMs < last - hour / 60;
}

/** Readings as their logger's clock tells them while it is set back. */
function setBack(samples: readonly Sample[], { faults }: InventedUnit): readonly Sample[] {
  const wrong = faults.filter(({ kind }) => kind === "clock-set-back");
  if (wrong.length === 0) return samples;
  return samples.map((sample) =>
    wrong.some(({ fromMs, toMs = Infinity }) => sample.timeMs >= fromMs && sample.timeMs < toMs)
      ? { ...sample, timeMs: sample.timeMs - setBackMs }
      : sample,
  );
}

const headers: Readonly<Record<string, readonly [string, number]>> = {
  motor_current: ["motor_current_a", 2],
  motor_temperature: ["motor_temperature_c", 1],
  suction_pressure: ["suction_pressure_kpa", 1],
  discharge_pressure: ["discharge_pressure_kpa", 1],
  gas_pressure: ["gas_pressure_kpa", 1],
  ozone: ["ozone", 0],
  gas_flow: ["gas_flow_lpm", 2],
  voltage: ["voltage", 1],
  ambient_temperature: ["ambient_temperature_c", 1],
  water_temperature: ["water_temperature_c", 1],
  ozone_in_air: ["ozone_in_air", 3],
  run_command: ["run_command", 0],
};

function formatOf({ channels }: InventedUnit): LogFormat {
  return {
    delimiter: ",",
    decimalComma: false,
    lineEnd: "\n",
    byteOrderMark: false,
    time: "utc",
    timeHeader: "time",
    timezone: "UTC",
    columns: channels.map((channel) => {
      const [header, digits] = headers[channel];
      return { header, channel, digits };
    }),
  };
}

function truthText(
  units: readonly InventedUnit[],
  invention: Invention,
  told: readonly { unit: string; fault: TrueFault }[],
): string {
  const rows = told.flatMap(({ unit, fault: { kind, alarms, startMs, endMs } }) =>
    alarms.map((alarm) => [unit, alarm, iso(startMs), iso(endMs), kind]),
  );
  return (
    `# units ${units.length}\n# from ${iso(invention.fromMs)}\n# to ${iso(endMs(invention))}\n` +
    csv(["unit", "alarm", "start", "end", "fault"], rows)
  );
}

function csv(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return `${[header, ...rows].map((row) => row.join(",")).join("\n")}\n`;
}
