import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, it } from "vitest";
import { node, startInTerminal, type TerminalOptions, type TerminalSession } from "./pty.ts";

const driver = fileURLToPath(new URL("../dashboard/driver.ts", import.meta.url));
const sessions: TerminalSession[] = [];
let folder = "";
afterEach(() => {
  for (const session of sessions.splice(0)) session.close();
  rmSync(folder, { recursive: true, force: true });
});

function start(args: readonly string[], options?: TerminalOptions): TerminalSession {
  const session = startInTerminal(node, args, options);
  sessions.push(session);
  return session;
}

const views = [
  ["2", "Standing alarms:"],
  ["4", "Service of the fleet"],
  ["5", "Data quality of the fleet"],
  ["1", "needed:"],
  ["o", "by site"],
  ["o", "by name"],
  ["o", "Lost prime"],
  ["\r", "how soon"],
] as const;

describe("the fleet's views on a real terminal", () => {
  it("fill every size from 80 × 24 to 300 × 100, whatever units and sites are called", {
    timeout: 60_000,
  }, async () => {
    const session = start([driver, "30", "odd names"]);
    await session.shows("q quits");
    for (const [columns, rows] of [
      [80, 24],
      [120, 40],
      [200, 60],
      [300, 100],
    ] as const) {
      session.resize(columns, rows);
      for (const [key, wanted] of views) {
        session.type(key);
        await session.until(() => {
          const lines = session.lines();
          const whole = lines[0]?.startsWith(" Larkmoor ponds") && lines[rows - 1]?.includes("q quits");
          return whole === true && session.text().includes(wanted);
        }, `${wanted} from the first row to row ${rows}`);
        // The moment stands at the right edge of the head: no row above or below has pushed it.
        expect(session.lines()[0]).toHaveLength(columns - 1);
        expect(session.text()).not.toMatch(/[\p{Cf}\ufffd]/u);
      }
    }
  });
});

/** A unit whose ozone is on although it must not be: a high alarm that any reading raises. */
function fleetWithAlarm(): string {
  folder = mkdtempSync(join(tmpdir(), "tarnwatch-views-"));
  mkdirSync(join(folder, "logs"));
  const rows = Array.from({ length: 30 }, (_, row) => {
    const time = new Date(Date.now() - (30 - row) * 10_000).toISOString();
    return `${time},9.1,45,-12,86,30,on`;
  });
  const header =
    "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone";
  writeFileSync(join(folder, "logs", "LM-01.csv"), `${header}\n${rows.join("\n")}\nnonsense\n`);
  const fleet = join(folder, "fleet.yaml");
  writeFileSync(
    fleet,
    "fleet: Larkmoor ponds\nlogs: logs\nunits:\n  - { id: LM-01, ozone: none, site: Otter Pool }\n",
  );
  return fleet;
}

/** What must stand on the rows of a view whatever the window's size: what it is of, of when, and its keys. */
const drawnByTheProgram = [
  [
    "3",
    [
      /^ Alarm history of the fleet {2,}.*\d\d:\d\d to \d\d:\d\d$/,
      /^ length {2}8 h \[24 h\]/,
      /■ {2}LM-01 +raised/,
    ],
  ],
  [
    "p",
    [
      /^ Alarm performance of the fleet +8 h +\[24 h\]/,
      /\d\d:\d\d to \d\d:\d\d$/,
      /^ {3}alarms in 10 min, most +\d /,
    ],
  ],
  [
    "2",
    [
      /^ Standing alarms: \d active at 1 of 1 unit\b.* as of \d\d:\d\d:\d\d$/,
      /not acknowledged +Otter Pool$/,
      /^ {5}answer {2}/,
    ],
  ],
  ["4", [/^ Service of the fleet: what is due, and when +as of/, /LM-01 +inspection/]],
  ["5", [/^ Data quality of the fleet: amiss at 1 of 1 unit +as of/, /rejected +LM-01\.csv:32/]],
  ["1", [/^ needed: {2}■ 1 {2}now/, /^▸ ■ LM-01 {2}Otter Pool/, /^ {5}do: /]],
  ["\r", [/^ LM-01 · Otter Pool · .*last reading \d\d:\d\d:\d\d$/, /^ Alarms/, /^ {3}how soon/]],
  ["?", [/^ What tarnwatch is$/, /^ {3}Tarnwatch observes and advises\. It stops no pump/]],
] as const;

const watch = (fleet: string, env: TerminalOptions["env"]) =>
  start(["dist/launch.js", "watch", fleet, "--state", join(folder, "state")], { env });

describe("every view of the program that runs", () => {
  it("has its rows at each size, its head on the first row of the window and its keys on the last", {
    timeout: 60_000,
  }, async () => {
    const session = watch(fleetWithAlarm(), { USER: "Ann" });
    await session.shows("■ LM-01");
    for (const [columns, rows] of [
      [80, 24],
      [120, 40],
      [200, 60],
    ] as const) {
      session.resize(columns, rows);
      for (const [key, wanted] of drawnByTheProgram) {
        session.type(key);
        await session.until(
          () => {
            const lines = session.lines().map((row) => row.trimEnd());
            const inPlace = wanted.every((one) => lines.some((row) => one.test(row)));
            return (
              inPlace &&
              (lines[rows - 1] ?? "").includes("q quits") &&
              /^ Larkmoor ponds {2,}.*\d\d:\d\d:\d\d/.test(lines[0] ?? "")
            );
          },
          `${key} at ${columns} × ${rows}: ${wanted.join(" ")}`,
        );
        if (key === "?") session.press("escape");
      }
      session.press("escape");
      await session.shows("needed:");
    }
  });
});

describe("the alarm history", () => {
  it("is shown by the console that collects and by one that is attached to it, and read out as words", {
    timeout: 60_000,
  }, async () => {
    const fleet = fleetWithAlarm();
    const ann = watch(fleet, { USER: "Ann", NO_COLOR: "1" });
    await ann.shows("■ LM-01");
    ann.type("3");
    await ann.shows(/▸\d\d:\d\d:\d\d {2}■ {2}LM-01 +raised +Ozone not allowed/);
    expect(ann.coloured()).toBe(false);

    const ben = watch(fleet, { USER: "Ben", TERM: "dumb", LANG: "C" });
    await ben.shows("attached to process");
    ben.type("3");
    await ben.shows(/>\d\d:\d\d:\d\d {2}# {2}LM-01 +raised +Ozone not allowed/);
    expect(ben.text()).not.toMatch(/[^\x20-\x7e\n]/);
    ben.type("5");
    await ben.shows(/rejected +LM-01\.csv:32 the row ends early/);

    const cleo = watch(fleet, { USER: "Cleo", INK_SCREEN_READER: "true" });
    await cleo.shows(/chosen: LM-01: Otter Pool\. high alarm, Ozone not allowed for/);
    // Nothing of the first frame is left between the words.
    expect(cleo.text()).not.toMatch(/starting|nothing is known/);
    cleo.type("2");
    await cleo.shows(/chosen: high LM-01, Ozone not allowed for .*, not acknowledged/);
    cleo.type("3");
    await cleo.shows(/chosen 24 h/);
    await cleo.shows(/chosen: \d\d:\d\d:\d\d, high LM-01, raised, Ozone not allowed/);
    expect(cleo.text()).not.toMatch(/[─━├┤●■▸]/);
  });
});
