import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

export const idOf = (unit: number): string => `F-${String(unit).padStart(4, "0")}`;

/** A reading with the ozone on every other second, where it may not be: each makes an alarm come or go. */
export function followRow(timeMs: number, on: boolean): string {
  return `${new Date(timeMs).toISOString()},9.31,60.0,-24.1,86.2,110.3,${on ? "on" : "off"}\n`;
}

/** A fleet whose ozone-not-allowed alarm has no delays, with one reading in each log. */
export function writeFleet(folder: string, units: number): void {
  mkdirSync(join(folder, "logs"));
  const header =
    "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone\n";
  const limits = "{ ozone-not-allowed: { delay: 0 s, off_delay: 0 s } }";
  let list = "";
  for (let u = 0; u < units; u++) {
    writeFileSync(join(folder, "logs", `${idOf(u)}.csv`), header + followRow(Date.now() - 60_000, false));
    list += `  - { id: ${idOf(u)}, sample_interval: 1 s, ozone: bypassed, limits: ${limits} }\n`;
  }
  writeFileSync(join(folder, "fleet.yaml"), `logs: logs\nunits:\n${list}`);
}
