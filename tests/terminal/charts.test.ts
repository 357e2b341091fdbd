import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, it } from "vitest";
import { clean } from "../support/unit-days.ts";
import { node, startInTerminal, type TerminalSession } from "./pty.ts";

const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;
let folder = "";
let screen: TerminalSession | undefined;
afterEach(() => {
  screen?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A reading a minute over five days up to now; the motor stands still for six hours, and one reading of all is odd. */
function fiveDays(): void {
  folder = mkdtempSync(join(tmpdir(), "tarnwatch-charts-"));
  mkdirSync(join(folder, "logs"));
  writeFileSync(join(folder, "fleet.yaml"), "logs: logs\nunits:\n  - { id: LM-01, elevation: 120 m }\n");
  const nowMs = Math.floor(Date.now() / minute) * minute;
  let text = "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa\n";
  for (let ms = nowMs - 5 * day; ms < nowMs; ms += minute) {
    const { motor_temperature, ...values } = clean((ms - nowMs) / 1000);
    const stands = nowMs - ms <= 30 * hour && nowMs - ms > 24 * hour;
    const { motor_current, suction_pressure, discharge_pressure } = stands
      ? { motor_current: 0, suction_pressure: 0, discharge_pressure: 0 }
      : values;
    const cells = [motor_current, motor_temperature, suction_pressure, discharge_pressure];
    text += `${[new Date(ms).toISOString(), ...cells].join(",")}\n`;
  }
  writeFileSync(join(folder, "logs", "LM-01.csv"), text);
}

function watch(): TerminalSession {
  const args = ["dist/launch.js", "watch", join(folder, "fleet.yaml"), "--state", join(folder, "state")];
  screen = startInTerminal(node, args, { columns: 140, rows: 50 });
  return screen;
}

it("draws days from what an earlier watch has kept, and a quarter of an hour of them from the log", async () => {
  fiveDays();
  const first = watch();
  await first.shows(/LM-01 .*running/);
  first.type("q");
  expect(await first.exit()).toBe(0);
  const { shows, type } = watch();
  await shows(/LM-01 .*running/);
  type("\r");
  await shows("The last 4 hours");
  type("-----");
  await shows("The last 4 days");
  // Six of 96 hours it stood still, and started once since.
  await shows(/the motor ran (89\.\d|90\.0)( to 90\.\d)? h of 9[56]\.\d h read · (at least )?1 start/);
  await shows(/NPSH at gauge/);
  type(",");
  await shows(/4 days to /);
  type("m+++++++++");
  await shows(/15 min to .* · mark at /);
  await shows(/a column is the lowest and highest of \d+ s/);
  await shows(/the motor ran 0\.[23] h of 0\.[23] h read · 0 starts/);
  type("mn");
  await shows("The last 15 min");
});
