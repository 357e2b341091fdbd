import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { afterEach, expect, it } from "vitest";
import { node, startInTerminal, type TerminalSession } from "./pty.ts";

const sessions: TerminalSession[] = [];
let folder = "";
afterEach(() => {
  for (const session of sessions.splice(0)) session.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A unit whose ozone is on although it must not be: a high alarm that any reading raises. */
function fleetWithAlarm(): string {
  folder = mkdtempSync(join(tmpdir(), "tarnwatch-saying-"));
  mkdirSync(join(folder, "logs"));
  const rows = Array.from({ length: 30 }, (_, row) => {
    const time = new Date(Date.now() - (30 - row) * 10_000).toISOString();
    return `${time},9.1,45,-12,86,30,on`;
  });
  const header =
    "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone";
  writeFileSync(join(folder, "logs", "LM-01.csv"), `${header}\n${rows.join("\n")}\n`);
  const fleet = join(folder, "fleet.yaml");
  writeFileSync(fleet, "fleet: Larkmoor ponds\nlogs: logs\nunits:\n  - { id: LM-01, ozone: none }\n");
  return fleet;
}

/** Two colleagues on one login. */
function watch(fleet: string, name: string): TerminalSession {
  const session = startInTerminal(
    node,
    ["dist/launch.js", "watch", fleet, "--by", name, "--state", join(folder, "state")],
    {
      env: { USER: "pump", NO_COLOR: "1" },
    },
  );
  sessions.push(session);
  return session;
}

it("a high alarm is shelved from one console after c, seen on the other, and brought back by u", {
  timeout: 40_000,
}, async () => {
  const fleet = fleetWithAlarm();
  const ann = watch(fleet, "Ann");
  await ann.shows("■ LM-01");
  const ben = watch(fleet, "Ben");
  await ben.shows("attached to process");
  await ben.shows("■ LM-01");

  ben.type("\u001b[200~wshelve all 2h\rc\u001b[201~");
  ben.type("wshelve all 2h\rc");
  // A burst moves about at most: its Enter opens the unit.
  await ben.shows("Esc back");
  ben.type("w");
  await ben.shows("Ben says: _");
  ben.type("shelve ozone-not-allowed 2h Ann is on her way");
  await ben.shows("her way_");
  ben.press("enter");
  await ben.shows("It is a high alarm, and it stands.");
  expect(ben.lines().every((row) => row.length <= 80)).toBe(true);
  await sleep(350);
  ben.type("c");
  await ben.shows(/LM-01: Ozone not allowed shelved by Ben until .*u\s+undoes\s+it/);
  expect(ben.coloured()).toBe(false);

  ann.press("enter");
  await ann.shows("Alarms set aside");
  await ann.shows(/shelved by Ben at .* Ann is\s+on her way/);
  ann.type("u");
  await ann.shows("nothing was said here that could be undone");

  ben.type("u");
  await ben.shows("LM-01: Ozone not allowed back from the shelf, undone by Ben");
  await ann.shows("Ozone not allowed for");
  await ann.until(() => !ann.text().includes("Alarms set aside"), "the alarm to be back");
});
