import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

export const header =
  "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone,voltage_v\n";

/** One reading of a clean unit: seven channels, numbers as a logger writes them. */
export function row(timeMs: number, i: number): string {
  const time = new Date(timeMs).toISOString().slice(0, 19);
  const a = (9.3 + ((i * 7) % 17) / 100).toFixed(2);
  const t = (58 + (i % 31) / 10).toFixed(1);
  const s = (-24 + ((i * 3) % 13) / 10).toFixed(1);
  const d = (86 + ((i * 5) % 23) / 10).toFixed(1);
  const g = (24 + (i % 7) / 10).toFixed(1);
  const v = (115 + (i % 9) / 10).toFixed(1);
  return `${time}Z,${a},${t},${s},${d},${g},on,${v}\n`;
}

export interface LogFolder {
  readonly folder: string;
  readonly units: number;
  readonly rowsEach: number;
}

/** Writes logs of `units` units, a reading every 10 s up to now, and their fleet file. */
export function writeLogs({ folder, units, rowsEach }: LogFolder, endMs: number): void {
  mkdirSync(join(folder, "logs"), { recursive: true });
  const ids = Array.from({ length: units }, (_, u) => `B-${String(u + 1).padStart(4, "0")}`);
  for (const id of ids) {
    const lines = [header];
    for (let i = 0; i < rowsEach; i++) lines.push(row(endMs - (rowsEach - i) * 10_000, i));
    writeFileSync(join(folder, "logs", `${id}.csv`), lines.join(""));
  }
  const list = ids.map((id) => `  - { id: ${id}, runs: always }\n`).join("");
  writeFileSync(join(folder, "fleet.yaml"), `fleet: bench\nlogs: logs\nunits:\n${list}`);
}
