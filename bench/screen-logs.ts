import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

export const quietIdOf = (unit: number): string => `Q-${String(unit).padStart(4, "0")}`;
const header =
  "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone\n";
const stepMs = 600_000;

/** A reading of a pump that runs as it should, with the noise of its gauges: `noise` −1 to 1. */
export function quietRow(timeMs: number, noise: number): string {
  const near = (value: number, by: number, decimals: number) => (value + by * noise).toFixed(decimals);
  const values = [
    near(9.3, 0.04, 2),
    near(58, 0.1, 1),
    near(-24, 0.3, 1),
    near(86, 0.5, 1),
    near(110, 0.3, 1),
  ];
  return `${new Date(timeMs).toISOString()},${values.join(",")},on\n`;
}

/** A fleet in which nothing is wrong, with `days` of readings, one every ten minutes, behind it. */
export function writeQuietFleet(folder: string, units: number, days: number): void {
  mkdirSync(join(folder, "logs"));
  const endMs = Math.floor(Date.now() / stepMs) * stepMs;
  const many = Math.round((days * 86_400_000) / stepMs);
  let list = "";
  for (let u = 0; u < units; u++) {
    let text = header;
    for (let n = many; n > 0; n--) text += quietRow(endMs - n * stepMs, Math.sin(n * 12.9898 + u * 78.233));
    writeFileSync(join(folder, "logs", `${quietIdOf(u)}.csv`), text);
    list += `  - { id: ${quietIdOf(u)}, sample_interval: 10 min, arrives_every: 20 min }\n`;
  }
  writeFileSync(
    join(folder, "fleet.yaml"),
    `fleet: Quiet ponds\nlogs: logs\ndefaults:\n  runs: always\n  service: { inspection_every: 400 d, cleaning_every: 400 d }\nunits:\n${list}`,
  );
}
