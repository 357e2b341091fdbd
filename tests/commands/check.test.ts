import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { called } from "../support/called.ts";
import { fleetFile, ozoneLost, primeLost, quietDay, stopped } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { folderWith, run } from "../support/program.ts";
import { statusShape } from "../support/status-shape.ts";
import { hourClean, readings } from "../support/unit-days.ts";

const end = "2026-05-04T01:09:50Z";
const fleet = fleetFile(
  [
    "{ id: LM-01, site: Heron Bend, motor: { full_load_current: 9.8 A } }",
    "{ id: LM-02 }",
    "{ id: LM-03, season: 06-01..09-15 }",
    "{ id: LM-04 }",
  ],
  "sites: { Heron Bend: {} }\n",
);
const cwd = folderWith({
  "fleet.yaml": fleet,
  "logs/LM-01.csv": logText(readings(primeLost)),
  "logs/LM-02.csv": logText(readings(ozoneLost)),
  "logs/LM-03.csv": logText(readings([hourClean, { seconds: 600, values: stopped }])),
  "logs/LM-04.csv": logText(readings(quietDay)),
});

const one = (unit: string, log: string) =>
  folderWith({ "fleet.yaml": fleetFile([unit]), "logs/LM-01.csv": log });

describe("check --json", () => {
  it("has the shape that scripts rely on, units as in the fleet file, their alarms most urgent first", async () => {
    const { status, stdout, stderr } = await run(["check", "--at", end, "--json"], { cwd });
    expect({ status, stderr }).toEqual({ status: 1, stderr: "" });
    expect(stdout.endsWith("}\n") && stdout.indexOf("\n") === stdout.length - 1).toBe(true);
    const view = statusShape.parse(JSON.parse(stdout));
    expect(view).toMatchObject({ at: "2026-05-04T01:09:50.000Z", fleet: "Test ponds", worst: "high" });
    expect(view.units.map(({ id, site, state }) => [id, site, state])).toEqual([
      ["LM-01", "Heron Bend", "running"],
      ["LM-02", null, "running"],
      ["LM-03", null, "laid up"],
      ["LM-04", null, "running"],
    ]);
    const [first, second, third, fourth] = view.units;
    expect(first.alarms).toMatchObject([
      {
        alarm: "lost-prime",
        priority: "high",
        since: "2026-05-04T01:00:00.000Z",
        state: "active-unacknowledged",
        evidence: { discharge_pressure: { value: 1.5, unit: "kPa" } },
      },
    ]);
    expect(second.alarms).toMatchObject([{ alarm: "ozone-off", priority: "medium" }]);
    expect(third.alarms).toEqual([]);
    expect(fourth).toMatchObject({
      baseline: "provisional",
      last_reading: "2026-05-04T01:09:50.000Z",
      since: "2026-05-04T00:00:10.000Z",
      problem: null,
      alarms: [],
    });
    expect(fourth.not_judged).toContainEqual({
      alarm: "not-running",
      why: "neither `runs` in the fleet file nor a run command in the log",
      lacks: ["`runs`"],
    });
    expect(Object.keys(fourth.readings)).toEqual([
      "motor_current",
      "motor_temperature",
      "suction_pressure",
      "discharge_pressure",
      "gas_pressure",
      "ozone",
    ]);
    expect(fourth.readings).toMatchObject({ ozone: "on" });
  });

  it("shows a reading that is missing now as null, not as its last value", async () => {
    const log = logText(
      readings([
        hourClean,
        {
          seconds: 120,
          values: (s) => ({ motor_current: 9.3, discharge_pressure: s < 10 ? 86 : undefined }),
        },
      ]),
    );
    const { stdout } = await called(["check", "--at", "2026-05-04T01:02:00Z", "--json"], {
      cwd: one("{ id: LM-01 }", log),
    });
    const [unit] = statusShape.parse(JSON.parse(stdout)).units;
    expect(unit.readings).toMatchObject({ motor_current: 9.3, discharge_pressure: null });
  });

  it("reads rows up to and including --at and none after it", async () => {
    for (const [at, last, alarms] of [
      ["2026-05-04T01:00:20Z", "2026-05-04T01:00:20.000Z", 0],
      ["2026-05-04T01:00:29.999Z", "2026-05-04T01:00:20.000Z", 0],
      ["2026-05-04T01:00:30Z", "2026-05-04T01:00:30.000Z", 1],
    ] as const) {
      const { stdout } = await called(["check", "--at", at, "--json"], { cwd });
      const [unit] = statusShape.parse(JSON.parse(stdout)).units;
      expect([unit.last_reading, unit.alarms.length]).toEqual([last, alarms]);
    }
  });
});

describe("check's exit status", () => {
  const at = (priority: string) => ["check", "--at", end, "--priority", priority];

  it("is 1 while an alarm is active, 0 where nothing needs attention", async () => {
    expect((await called(["check", "--at", end], { cwd })).status).toBe(1);
    const quiet = one("{ id: LM-01 }", logText(readings(quietDay)));
    expect((await called(["check", "--at", end], { cwd: quiet })).status).toBe(0);
  });

  it("counts only from --priority up", async () => {
    const medium = one("{ id: LM-01 }", logText(readings(ozoneLost)));
    for (const [priority, status] of [
      ["high", 0],
      ["medium", 1],
      ["low", 1],
    ] as const) {
      expect((await called(at(priority), { cwd: medium })).status).toBe(status);
    }
    expect((await called(at("high"), { cwd })).status).toBe(1);
  });

  it("is 1 for a unit that fell silent: medium, high where the logger shares the pump's outlet", async () => {
    const log = logText(readings(quietDay));
    const later = ["check", "--at", "2026-05-04T03:00:00Z", "--priority", "high"];
    expect((await called(later, { cwd: one("{ id: LM-01 }", log) })).status).toBe(0);
    expect((await called(later, { cwd: one("{ id: LM-01, logger_power: same outlet }", log) })).status).toBe(
      1,
    );
  });

  it("does not count what a service suppresses", async () => {
    const service = "services: [{ unit: LM-01, kind: repair begin, at: 2026-05-04T00:59:55Z }]\n";
    const folder = folderWith({
      "fleet.yaml": fleetFile(["{ id: LM-01 }"], service),
      "logs/LM-01.csv": logText(readings(primeLost)),
    });
    const { status, stdout } = await called(["check", "--at", end, "--json"], { cwd: folder });
    const view = statusShape.parse(JSON.parse(stdout));
    expect(status).toBe(0);
    expect(view.worst).toBeNull();
    expect(view.units[0]).toMatchObject({ state: "under service", alarms: [{ state: "suppressed" }] });
  });
});

describe("check as text", () => {
  it("names the worst first, with what to do and how soon, then the quiet units", async () => {
    const { stdout } = await called(["check", "--at", end], { cwd });
    const lines = stdout.split("\n");
    expect(lines[0]).toBe("Test ponds, Mon 4 May 2026 01:09:50 UTC: 4 units");
    const heads = lines
      .filter((line) => /^(HIGH|MEDIUM|LOW|quiet|partly judged) /.test(line))
      .map((line) => line.split(/ {2,}/));
    expect(heads.map(([priority, unit]) => `${priority} ${unit}`)).toEqual([
      "HIGH LM-01",
      "MEDIUM LM-02",
      "quiet LM-03",
      "partly judged LM-04",
    ]);
    expect(stdout).toMatch(/HIGH {2}LM-01 {2}Heron Bend {2}Lost prime for 9 min\n.*collapsed to 1\.5 kPa/);
    expect(stdout).toMatch(/^ {2}Now: .* First: /m);
  });

  it("finds ./fleet.yaml by itself, and a fleet file anywhere by its path", async () => {
    const named = await called(["check", "--at", end, join(cwd, "fleet.yaml")]);
    expect(named.stdout).toBe((await called(["check", "--at", end], { cwd })).stdout);
  });
});

describe("check writes nothing", () => {
  it("leaves the folder, its logs and the state folder as they were", async () => {
    const folder = folderWith({
      "fleet.yaml": fleetFile(["{ id: LM-01 }"], "state: state\n"),
      "logs/LM-01.csv": logText(readings(primeLost)),
    });
    const home = folderWith({});
    const tree = () => [...walk(folder), ...walk(home)];
    const before = tree();
    const env = { HOME: home, XDG_STATE_HOME: join(home, "state") };
    await run(["check", "--at", end], { cwd: folder, env });
    await run(["check", "--json", "--state", "elsewhere"], { cwd: folder, env });
    expect(tree()).toEqual(before);
  });

  function walk(folder: string): string[] {
    return readdirSync(folder, { withFileTypes: true, recursive: true }).map((entry) => {
      const path = join(entry.parentPath, entry.name);
      const { mtimeMs, size } = statSync(path);
      return `${path} ${mtimeMs} ${size} ${entry.isFile() ? readFileSync(path, "utf8").length : ""}`;
    });
  }
});
