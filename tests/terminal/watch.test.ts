import { appendFileSync, mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { clean, type Values } from "../support/unit-days.ts";
import { node, startInTerminal, type TerminalSession } from "./pty.ts";

const header =
  "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone\n";

let folder = "";
let screen: TerminalSession | undefined;
afterEach(() => {
  screen?.close();
  rmSync(folder, { recursive: true, force: true });
});

function line(timeMs: number, values: Values): string {
  const { motor_current, motor_temperature, suction_pressure, discharge_pressure, gas_pressure, ozone } =
    values;
  const cells = [motor_current, motor_temperature, suction_pressure, discharge_pressure, gas_pressure];
  return `${[new Date(timeMs).toISOString(), ...cells, ozone === 1 ? "on" : "off"].join(",")}\n`;
}

/** A fleet of one unit whose log ends now after an hour of clean running; `more` are further units. */
function fleet(more = ""): { log: string; nowMs: number } {
  folder = mkdtempSync(join(tmpdir(), "tarnwatch-watch-"));
  mkdirSync(join(folder, "logs"));
  writeFileSync(
    join(folder, "fleet.yaml"),
    `fleet: Larkmoor ponds\nlogs: logs\nunits:\n  - { id: LM-01, site: Heron Bend, runs: always, sample_interval: 2 s }\n${more}`,
  );
  const log = join(folder, "logs", "LM-01.csv");
  const nowMs = Math.floor(Date.now() / 2000) * 2000;
  let text = header;
  for (let s = 3600; s > 0; s -= 2) text += line(nowMs - s * 1000, clean(s));
  writeFileSync(log, text);
  return { log, nowMs };
}

function watch(): TerminalSession {
  screen = startInTerminal(node, ["dist/launch.js", "watch", join(folder, "fleet.yaml")], {
    columns: 110,
    rows: 40,
  });
  return screen;
}

const dry: Values = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5 };

describe("watch", () => {
  it("sees a unit lose its prime in the rows that its logger appends, also across a rotation", async () => {
    const { log, nowMs } = fleet();
    const { shows } = watch();
    await shows(/LM-01 .*running/);
    let rows = "";
    for (let s = 0; s < 16; s += 2) rows += line(nowMs + s * 1000, { ...clean(s), ...dry });
    appendFileSync(log, rows);
    renameSync(log, `${log}.1`);
    rows = header;
    for (let s = 16; s <= 32; s += 2) rows += line(nowMs + s * 1000, { ...clean(s), ...dry });
    writeFileSync(log, rows);
    await shows(/■ LM-01 +Heron Bend/);
    await shows(/Lost prime for .*Discharge pressure collapsed to 1\.5 kPa/);
  });

  it("says at once which fleet is being read, and Ctrl-C then gives the terminal back", async () => {
    fleet();
    const { until, raw, press, exit, state, text } = watch();
    await until(() => raw().includes("reading the logs of 1 unit …"), "the first frame");
    expect(raw().indexOf("Larkmoor ponds")).toBeGreaterThan(raw().indexOf("\u001b[?1049h"));
    press("ctrl-c");
    expect(await exit()).toBe(130);
    expect(state()).toEqual({ alternate: false, cursorShown: true, bracketedPaste: false });
    expect(text()).not.toContain("Larkmoor ponds");
  });

  it("is ended by q before there is a dashboard: a large fleet's takes seconds to come", async () => {
    fleet();
    const { raw, type, exit, state } = watch();
    type("q");
    expect(await exit()).toBe(0);
    expect(raw()).toContain("reading the logs of 1 unit …");
    expect(raw()).not.toContain("q quits");
    expect(state()).toEqual({ alternate: false, cursorShown: true, bracketedPaste: false });
  });

  it("takes what else was typed ahead for the dashboard", async () => {
    fleet();
    const { type, shows, raw, until } = watch();
    await until(() => raw().includes("reading the logs of 1 unit …"), "the first frame");
    type("?");
    await shows("It stops no pump");
    // What stood below the head is cleared before the dashboard draws: its rows may be shorter.
    const drawn = raw().slice(raw().indexOf("reading the logs of 1 unit"));
    const cleared = drawn.replaceAll("\r", "").indexOf("\u001b[H\n\u001b[J");
    expect(cleared).toBeGreaterThan(0);
    expect(cleared).toBeLessThan(drawn.indexOf("It stops no pump"));
  });

  it("shows a broken unit as such and watches the others", async () => {
    fleet("  - { id: LM-02, site: Heron Bend }\n");
    const { shows } = watch();
    await shows(/LM-02 +Cannot be read +Heron Bend/);
    await shows(/no log in .*logs; name it LM-02\.csv/);
    await shows(/LM-01 .*running/);
  });

  it("says what is wrong where nothing can be read, and leaves the terminal alone", async () => {
    const { log } = fleet();
    rmSync(log);
    const { exit, text, state } = watch();
    expect(await exit()).toBe(2);
    expect(text()).toMatch(/the only unit cannot be read\s+LM-01: no log in/);
    expect(state().alternate).toBe(false);
  });

  it("never sends a log's or a fleet file's control characters to the terminal", async () => {
    const { log } = fleet('  - { id: LM-02, site: "Heron\\e[2JBend\\u009b31m" }\n');
    appendFileSync(log, "\u001b[2Jgarbage,\u001b]0;title\u0007,1,2,3,4,5\n");
    const { shows, raw, press, until, text } = watch();
    await shows("LM-02");
    await shows(/␛\[2J/);
    press("enter");
    await shows("Esc back");
    // What comes later makes the page longer, and its end another.
    await shows("a column is");
    press("end");
    await until(() => /rejected/.test(text()), "the unit's log");
    expect(raw()).not.toContain("\u001b[2Jgarbage");
    expect(raw()).not.toContain("\u001b]0;title");
    expect(raw()).not.toContain("\u009b");
    expect(raw()).not.toContain("Heron\u001b");
  });
});
