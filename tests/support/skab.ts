import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { experimentsFolder } from "../../bench/experiments.ts";
import { fleetOf, readAlone } from "./played.ts";

/**
 * The Skoltech Anomaly Benchmark v0.9 (Iu. D. Katser, V. O. Kozitsin, 2020, doi 10.34740/kaggle/dsv/1693952):
 * a water loop with a pump, a reading a second. The files are no part of the project.
 */
export const skabFolder = experimentsFolder;
export const skabIsThere = existsSync(skabFolder);

/** The experiments at hand, as `valve1/0`. */
export const experiments: readonly string[] = skabIsThere
  ? ["valve1", "valve2", "other"].flatMap((folder) =>
      readdirSync(join(skabFolder, folder))
        .filter((name) => name.endsWith(".csv"))
        .map((name) => `${folder}/${name.slice(0, -4)}`),
    )
  : [];

export interface Experiment {
  readonly headers: readonly string[];
  readonly timeMs: readonly number[];
  /** By header. */
  readonly columns: Readonly<Record<string, readonly number[]>>;
}

/** An experiment read in the plainest way, to hold the program's reading against. */
export function readExperiment(name: string): Experiment {
  const [header, ...rows] = readFileSync(join(skabFolder, `${name}.csv`), "utf8")
    .trim()
    .split(/\r?\n/);
  const headers = header.split(";");
  const cells = rows.map((row) => row.split(";"));
  return {
    headers,
    timeMs: cells.map(([time]) => Date.parse(`${time.replace(" ", "T")}Z`)),
    columns: Object.fromEntries(headers.map((name, i) => [name, cells.map((row) => Number(row[i]))])),
  };
}

/** The fleet file for one experiment: its columns mapped, its first 400 s its clean running. */
function skabFleetFile(name: string, motor = "{ insulation_class: F }", limits = "{}"): string {
  const from = new Date(readExperiment(name).timeMs[0]).toISOString();
  return `
timezone: UTC
units:
  - id: loop
    log: ${name}.csv
    motor: ${motor}
    baseline: { from: ${from}, for: 400 s }
    limits: ${limits}
    columns:
      time: datetime
      motor_current: { column: Current, unit: A }
      discharge_pressure: { column: Pressure, unit: bar }
      motor_temperature: { column: Temperature, unit: degC }
      water_temperature: { column: Thermocouple, unit: degC }
      voltage: { column: Voltage, unit: V }
      flow: { column: Volume Flow RateRMS, unit: L/min }
      vibration: [Accelerometer1RMS, Accelerometer2RMS]
`;
}

/** One experiment played through the engine by itself. */
export function playExperiment(name: string, motor?: string, limits?: string) {
  const fleet = fleetOf(skabFleetFile(name, motor, limits), skabFolder);
  return readAlone({ ...fleet, logs: skabFolder });
}
