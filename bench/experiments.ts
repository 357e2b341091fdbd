import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Experiments } from "./wanted.ts";

const launcher = fileURLToPath(new URL("../dist/launch.js", import.meta.url));

/** Where the open pump experiments lie: TARNWATCH_EXPERIMENTS, or `../shared/data/skab` beside the checkout. */
export const experimentsFolder =
  process.env.TARNWATCH_EXPERIMENTS || fileURLToPath(new URL("../../shared/data/skab", import.meta.url));

/** Runs the program; 1 says that something was found, which is no failure here. */
function tarnwatch(...args: readonly string[]): string {
  try {
    return execFileSync(process.execPath, [launcher, ...args], { encoding: "utf8", maxBuffer: 1 << 28 });
  } catch (error) {
    const { status, stdout } = error as { status: number | null; stdout: string };
    if (status !== 1) throw error;
    return stdout;
  }
}

/** One experiment as a unit: all its columns, its first 400 rows clean, an attended test run. */
function unitLines(folder: string, file: string): string {
  const [, first] = readFileSync(join(folder, file), "utf8").split(/\r?\n/);
  const from = `${first.split(";")[0].replace(" ", "T")}Z`;
  return `
  - id: ${file.replace("/", "-").replace(".csv", "")}
    log: ${file}
    baseline: { from: ${from}, for: 400 s }
    limits: { unusual-running: { sensitivity: high } }
    columns:
      time: datetime
      motor_current: { column: Current, unit: A }
      discharge_pressure: { column: Pressure, unit: bar }
      motor_temperature: { column: Temperature, unit: degC }
      water_temperature: { column: Thermocouple, unit: degC }
      voltage: { column: Voltage, unit: V }
      flow: { column: Volume Flow RateRMS, unit: L/min }
      vibration: [Accelerometer1RMS, Accelerometer2RMS]`;
}

/**
 * Scores the open pump experiments row by row, as their leaderboard does: the first 400 rows of each file are
 * its clean running, the rest is judged. Source: Skoltech Anomaly Benchmark (SKAB) v0.9, doi
 * 10.34740/kaggle/dsv/1693952.
 */
export async function scoreExperiments(data: string): Promise<{ readonly all: Experiments }> {
  const files = ["valve1", "valve2", "other"].flatMap((folder) =>
    readdirSync(join(data, folder))
      .filter((name) => name.endsWith(".csv"))
      .map((name) => `${folder}/${name}`),
  );
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-bench-"));
  try {
    const fleet = join(folder, "fleet.yaml");
    writeFileSync(
      fleet,
      `timezone: UTC\nlogs: ${data}\nunits:${files.map((file) => unitLines(data, file)).join("")}\n`,
    );
    const events = join(folder, "events.jsonl");
    tarnwatch("replay", fleet, "--events", events);
    const scoring = [
      "score",
      "--events",
      events,
      "--fleet",
      fleet,
      "--label",
      "anomaly",
      "--skip-rows",
      "400",
    ];
    console.log(`\n== open pump experiments, row by row ==\n${tarnwatch(...scoring)}`);
    return JSON.parse(tarnwatch(...scoring, "--json"));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
