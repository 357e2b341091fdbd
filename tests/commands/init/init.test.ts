import { chmodSync, cpSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { findLogs } from "../../../src/acquire/find.ts";
import type { Ask } from "../../../src/commands/init/ask.ts";
import { init } from "../../../src/commands/init.ts";
import { loadFleet } from "../../../src/commands/load-fleet.ts";
import { called } from "../../support/called.ts";
import { folderWith, onlyError, projectFolder } from "../../support/program.ts";
import { skabFolder, skabIsThere } from "../../support/skab.ts";
import { american, dayMs, foreignLog, german, type Logger, local, loops, terse } from "./foreign-logs.ts";

const hourMs = 3_600_000;

/** A plain log of an hour from an hour of the day on, each at its own times or beside the others. */
const hour = (from: number, more: Partial<Logger> = {}): string =>
  foreignLog({
    header: ["time", "motor_current_a"],
    row: (_, t) => [new Date(t).toISOString(), 9],
    fromMs: dayMs + from * hourMs,
    stepS: 60,
    rows: 60,
    ...more,
  });

/** `init` on a folder, and each unit's logs as the program then finds them. */
async function unitsIn(
  files: Readonly<Record<string, string | Uint8Array>>,
): Promise<Record<string, string[]>> {
  const cwd = folderWith(
    Object.fromEntries(Object.entries(files).map(([name, text]) => [`logs/${name}`, text])),
  );
  const { status, stderr } = await called(["init", "logs"], { cwd });
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  const { fleet } = await loadFleet(join(cwd, "logs/fleet.yaml"));
  const { files: found, problems } = await findLogs(fleet);
  expect([...problems.values()]).toEqual([]);
  return Object.fromEntries(
    [...found].map(([id, paths]) => [id, paths.map((path) => path.slice(fleet.logs.length + 1)).sort()]),
  );
}

describe("init: logs whose dates do not begin with the year", () => {
  const when =
    (order: "dots" | "month first") =>
    (t: number): string => {
      const [date = "", clock = ""] = local(t).split(" ");
      const [year, month, day] = date.split("-");
      return order === "dots" ? `${day}.${month}.${year} ${clock}` : `${month}/${day}/${year} ${clock}`;
    };
  const log = (order: "dots" | "month first", from: number) =>
    hour(from, { row: (_, t) => [when(order)(t), 9] });

  it("reads dots day first, and writes the order of slashes with its reason, from the log that tells it", async () => {
    const cwd = folderWith({
      "logs/A.csv": log("dots", 0),
      "logs/B-2026-05-04.csv": log("month first", 0),
      "logs/B-2026-05-24.csv": log("month first", 20 * 24),
    });
    const { status, stdout } = await called(["init", "logs"], { cwd });
    expect(status).toBe(0);
    const { fleet } = await loadFleet(join(cwd, "logs/fleet.yaml"));
    expect(fleet.units.map(({ id, columns }) => [id, columns.timeFormat])).toEqual([
      ["A", undefined],
      ["B", "MM/DD/YYYY"],
    ]);
    expect(stdout).toContain("MM/DD/YYYY: its second number goes up to 24");
    const checked = await called(["check", "logs/fleet.yaml", "--json", "--at", "2026-05-25T00:00:00Z"], {
      cwd,
    });
    const { units } = JSON.parse(checked.stdout) as { units: { last_reading: string }[] };
    expect(units.map(({ last_reading }) => last_reading.slice(0, 16))).toEqual([
      "2026-05-04T00:59",
      "2026-05-24T00:59",
    ]);
  });

  it("puts a date and a time of the day in two columns together, whatever they are called", async () => {
    const parted = (order: "dots" | "month first", header: string[]): string =>
      hour(0, { header, row: (_, t) => [...when(order)(t).split(" "), 9] });
    const cwd = folderWith({
      "logs/A.csv": parted("dots", ["Datum", "Uhrzeit", "Motor Amps"]),
      "logs/B.csv": parted("month first", ["date", "time", "motor_current_a"]),
    });
    const { stdout, stderr } = await called(["init", "logs"], { cwd });
    expect([
      stderr,
      stdout.includes("time       'Uhrzeit' with the dates of 'Datum', the day first"),
    ]).toEqual(["", true]);
    const { fleet } = await loadFleet(join(cwd, "logs/fleet.yaml"));
    expect(fleet.units.map(({ columns: { time, date, timeFormat } }) => [time, date, timeFormat])).toEqual([
      ["Uhrzeit", "Datum", undefined],
      [undefined, undefined, "DD/MM/YYYY"],
    ]);
  });

  it("asks where no row tells the order", async () => {
    const { stdout } = await called(["init", "logs"], {
      cwd: folderWith({ "logs/B.csv": log("month first", 0) }),
    });
    expect(stdout).toContain("time_format: whether the day or the month comes first");
  });
});

it("leads from recordings of long ago to replay, as check does", async () => {
  const cwd = folderWith({ "logs/A.csv": hour(0) });
  const { stdout } = await called(["init", "logs"], { cwd });
  expect(stdout).toMatch(/ old; to play recordings: tarnwatch replay logs\/fleet.yaml\n$/);
  const late = await called(["check", "logs/fleet.yaml"], { cwd });
  expect(late.stdout).toContain("\n! newest reading ");
  const then = await called(["check", "logs/fleet.yaml", "--at", "2026-05-04T01:00:00Z"], { cwd });
  expect(then.stdout).not.toContain("recordings");
});

describe("init: which log is whose", () => {
  it("takes logs that run at the same time for units, whatever number their names end in", async () => {
    expect(await unitsIn({ "LM-01.csv": hour(0), "LM-02.csv": hour(0), "LM-03.csv": hour(0) })).toEqual({
      "LM-01": ["LM-01.csv"],
      "LM-02": ["LM-02.csv"],
      "LM-03": ["LM-03.csv"],
    });
  });

  it("takes logs that follow each other by their numbers for one unit's", async () => {
    expect(
      await unitsIn({ "pump-001.csv": hour(0), "pump-002.csv": hour(1), "pump-003.csv": hour(2) }),
    ).toEqual({
      pump: ["pump-001.csv", "pump-002.csv", "pump-003.csv"],
    });
  });

  it("takes days at either end of a name, rotated and compressed logs for one unit's", async () => {
    expect(
      await unitsIn({
        "LM-01.csv": hour(3),
        "LM-01.csv.1": hour(2),
        "LM-01.csv.2.gz": gzipSync(hour(1)),
        "LM-01-2026-05-04.csv": hour(0),
        "20260504_LM-02.csv": hour(0),
        "20260505_LM-02.csv": hour(24),
      }),
    ).toEqual({
      "LM-01": ["LM-01-2026-05-04.csv", "LM-01.csv", "LM-01.csv.1", "LM-01.csv.2.gz"],
      "LM-02": ["20260504_LM-02.csv", "20260505_LM-02.csv"],
    });
  });

  it("takes a folder for the unit where its logs have a number or a day for a name, or anybody's", async () => {
    expect(
      await unitsIn({
        "north/1.csv": hour(0),
        "north/2.csv": hour(1),
        "south/2026-05-04.csv": hour(0),
        "south/2026-05-05.csv": hour(24),
        "P7/data.csv": hour(0),
        "P8/data.csv": hour(0),
      }),
    ).toEqual({
      north: ["north/1.csv", "north/2.csv"],
      south: ["south/2026-05-04.csv", "south/2026-05-05.csv"],
      P7: ["P7/data.csv"],
      P8: ["P8/data.csv"],
    });
  });

  it("takes one name in two folders for one unit if the times follow, else for two", async () => {
    expect(
      await unitsIn({
        "archive/A1.csv": hour(0),
        "now/A1.csv": hour(1),
        "east/Pump A.csv": hour(0),
        "west/Pump A.csv": hour(0),
      }),
    ).toEqual({
      A1: ["archive/A1.csv", "now/A1.csv"],
      "east-Pump-A": ["east/Pump A.csv"],
      "west-Pump-A": ["west/Pump A.csv"],
    });
  });

  it("finds the demonstration's units and whose each of its logs is", async () => {
    const folder = join(folderWith({}), "logs");
    cpSync(join(projectFolder, "sample-logs/logs"), folder, { recursive: true });
    expect((await called(["init", folder])).status).toBe(0);
    const own = await findLogs((await loadFleet(join(folder, "fleet.yaml"))).fleet);
    const demo = await loadFleet(join(projectFolder, "sample-logs/fleet.yaml"));
    const told = await findLogs(demo.fleet);
    const names = (files: ReadonlyMap<string, readonly string[]>, root: string) =>
      Object.fromEntries([...files].map(([id, paths]) => [id, paths.map((path) => path.slice(root.length))]));
    const withLogs = Object.entries(names(told.files, demo.fleet.logs)).filter(
      ([, paths]) => paths.length > 0,
    );
    expect(names(own.files, folder)).toEqual(Object.fromEntries(withLogs));
  });
});

describe("init, then check", () => {
  const logs = { german, american, loops, terse };

  it("watches logs of foreign loggers in two commands", async () => {
    const cwd = folderWith(
      Object.fromEntries(Object.entries(logs).map(([id, logger]) => [`ponds/${id}.csv`, foreignLog(logger)])),
    );
    const { status, stdout } = await called(["init", "ponds"], { cwd });
    expect(status).toBe(0);
    expect(stdout).toContain("ponds/fleet.yaml: 4 units from 4 logs");
    expect(stdout).toMatch(/\? +Suction psi +– +positive while the pump runs: a person must say what it is/);
    expect(stdout).toContain("'Datum', without offset: UTC is assumed");
    const at = new Date(dayMs + 2990 * 1000).toISOString();
    const checked = await called(["check", "ponds/fleet.yaml", "--json", "--at", at], { cwd });
    const { units } = JSON.parse(checked.stdout);
    const read = Object.fromEntries(
      units.map((unit: { id: string; readings: object }) => [unit.id, unit.readings]),
    );
    expect(read.german).toMatchObject({
      motor_current: expect.closeTo(9.1, 0),
      suction_pressure: expect.closeTo(-21, -1),
    });
    expect(read.american).toMatchObject({
      motor_temperature: expect.closeTo(64.4, -1),
      discharge_pressure: expect.closeTo(85.5, -1),
    });
    expect(read.american.suction_pressure ?? null).toBeNull();
    expect(read.loops).toMatchObject({
      motor_current: expect.closeTo(9.3, 0),
      suction_pressure: expect.closeTo(-21, -1),
      ozone: "on",
    });
    expect(read.terse).toMatchObject({
      motor_temperature: expect.closeTo(71, -1),
      discharge_pressure: expect.closeTo(84, -1),
    });
  });

  it.skipIf(!skabIsThere)(
    "watches open pump experiments it has never seen (SKAB v0.9, doi 10.34740/kaggle/dsv/1693952)",
    async () => {
      const cwd = folderWith({});
      cpSync(skabFolder, join(cwd, "skab"), { recursive: true });
      expect((await called(["init", "skab"], { cwd })).status).toBe(0);
      const { fleet } = await loadFleet(join(cwd, "skab/fleet.yaml"));
      expect(fleet.units.map(({ id }) => id)).toEqual(["other", "valve1", "valve2"]);
      // The benchmark's own description of its columns.
      for (const { columns, sampleIntervalMs } of fleet.units) {
        expect(columns.channels).toEqual({
          motor_current: [{ column: "Current", unit: "A" }],
          motor_temperature: [{ column: "Temperature", unit: "degC" }],
          discharge_pressure: [{ column: "Pressure", unit: "bar" }],
          water_temperature: [{ column: "Thermocouple", unit: "degC" }],
          flow: [{ column: "Volume Flow RateRMS", unit: "L/min" }],
          voltage: [{ column: "Voltage", unit: "V" }],
          vibration: [
            { column: "Accelerometer1RMS", unit: "g" },
            { column: "Accelerometer2RMS", unit: "g" },
          ],
        });
        expect(sampleIntervalMs).toBe(1000);
      }
      const { stdout } = await called(
        ["check", "skab/fleet.yaml", "--json", "--at", "2020-03-09T17:00:00Z"],
        { cwd },
      );
      const states = JSON.parse(stdout).units.map(
        ({ readings }: { readings: object }) => Object.keys(readings).length,
      );
      expect(Math.min(...states)).toBeGreaterThan(6);
    },
  );

  it("writes a file whose lines behind a # are right as well, but for scales that only a person knows", async () => {
    const cwd = folderWith({ "ponds/german.csv": foreignLog(german) });
    await called(["init", "ponds"], { cwd });
    const path = join(cwd, "ponds/fleet.yaml");
    const text = readFileSync(path, "utf8");
    const live = text.replace(/^( *)# (\w+: )/gm, "$1$2");
    expect(live.split("\n").filter((line) => /^ *\w+: /.test(line)).length).toBeGreaterThan(20);
    writeFileSync(path, live);
    const { fleet } = await loadFleet(path);
    expect(fleet.units[0]).toMatchObject({ ozone: "fitted", consequence: "fish", arrivesEveryMs: 3_600_000 });
  });

  it("has its question of a suction pressure answered on a terminal, once for all units that are alike", async () => {
    const cwd = folderWith({ "A.csv": foreignLog(american), "B.csv": foreignLog(american) });
    const asked: string[] = [];
    const ask: Ask = async (question, choices) => {
      asked.push(question);
      return choices.find(({ when }) => when === "a vacuum written as a positive number, and so at B");
    };
    await init(cwd, {}, ask, () => {});
    expect(asked).toEqual([expect.stringContaining("'Suction psi' of A: positive while the pump runs")]);
    const { fleet } = await loadFleet(join(cwd, "fleet.yaml"));
    expect(fleet.units.map(({ columns }) => columns.channels.suction_pressure)).toEqual([
      [{ column: "Suction psi", unit: "psi", vacuum: true }],
      [{ column: "Suction psi", unit: "psi", vacuum: true }],
    ]);
  });

  it("judges the sign of a suction at each unit, and says where units of one logger differ", async () => {
    const above = { ...german, row: (i: number, t: number) => german.row(i, t).with(3, "0,22") };
    const cwd = folderWith({
      "lift.csv": foreignLog(german),
      "below-pond.csv": foreignLog(above),
      "tank.csv": foreignLog(above),
    });
    const asked: string[] = [];
    const lines: string[] = [];
    const ask: Ask = async (question, choices) => {
      asked.push(question);
      return asked.length === 1 ? choices[1] : undefined;
    };
    await init(cwd, {}, ask, (line) => lines.push(line));
    expect(asked).toEqual([
      expect.stringMatching(/^'Saugdruck \[bar\]' of below-pond: .*; not positive at lift\.$/),
      expect.stringContaining("of tank:"),
    ]);
    expect(lines.join("\n")).toContain(
      "'Saugdruck [bar]' bears two signs: positive while the pump runs at below-pond, tank, not at lift;",
    );
    const { fleet } = await loadFleet(join(cwd, "fleet.yaml"));
    const plain = [{ column: "Saugdruck [bar]", unit: "bar" }];
    expect(fleet.units.map(({ id, columns }) => [id, columns.channels.suction_pressure])).toEqual([
      ["below-pond", plain],
      ["lift", plain],
      ["tank", undefined],
    ]);
    const [defaults, units] = readFileSync(join(cwd, "fleet.yaml"), "utf8").split("\nunits:\n");
    expect(defaults).toContain("motor_current:");
    expect([defaults?.includes("Saugdruck"), units?.includes("Motorstrom")]).toEqual([false, false]);
  });

  it("names the logs' folder from where the fleet file lies", async () => {
    const cwd = folderWith({ "logs/A.csv": hour(0), "etc/x": "" });
    expect((await called(["init", "logs", "--out", "etc/ponds.yaml"], { cwd })).status).toBe(0);
    expect((await loadFleet(join(cwd, "etc/ponds.yaml"))).fleet.logs).toBe(join(cwd, "logs"));
  });

  it("writes what a header holds so that it stays that text", async () => {
    const odd = ["Amps: [x] #1", "true Amps", "'quoted' Amps", "Amps, é"];
    const header = ["time", ...odd].map((name) => `"${name}"`);
    const cwd = folderWith({ "A.csv": foreignLog({ header, row: (_, t) => [local(t), 9, 9, 9, 9] }) });
    expect((await called(["init", "."], { cwd })).status).toBe(0);
    const { fleet } = await loadFleet(join(cwd, "fleet.yaml"));
    expect(fleet.units[0].columns.channels.motor_current?.[0].column).toBe(odd[0]);
    expect(readFileSync(join(cwd, "fleet.yaml"), "utf8")).toContain('"true Amps"');
  });
});

describe("init, where it cannot", () => {
  it("says so of a folder without logs, one that is not there, and a file", async () => {
    const cwd = folderWith({ "empty/.x": "", "notes/readme.txt": "x", "a.csv": hour(0) });
    expect(onlyError(await called(["init", "empty"], { cwd }))).toBe(
      "empty: no log found: there is no file in it; a log ends in .csv, .csv.gz, .csv.N or .csv.N.gz",
    );
    expect(onlyError(await called(["init", "notes"], { cwd }))).toContain(
      "none of its 1 file is named like one",
    );
    expect(onlyError(await called(["init", "nowhere"], { cwd }))).toBe(
      "nowhere: there is no such folder; name the folder of the logs",
    );
    expect(onlyError(await called(["init", "a.csv"], { cwd }))).toBe(
      "a.csv: it is a file; name the folder of the logs",
    );
  });

  it("writes over no file", async () => {
    const cwd = folderWith({ "A.csv": hour(0), "fleet.yaml": "mine" });
    expect(onlyError(await called(["init", "."], { cwd }))).toBe(
      "fleet.yaml: it is there already and is not written over; name another with --out FILE",
    );
    expect(readFileSync(join(cwd, "fleet.yaml"), "utf8")).toBe("mine");
  });

  it("tells of a file that is no CSV, and goes on with the others", async () => {
    const cwd = folderWith({ "A.csv": hour(0), "B.csv": "no columns\n", "C.csv": "time,Amps\nnoon,9\n" });
    const { status, stdout, stderr } = await called(["init", "."], { cwd });
    expect(status).toBe(0);
    expect(stderr.trimEnd().split("\n")).toEqual([
      expect.stringMatching(/^B\.csv: it is no CSV/),
      expect.stringMatching(/^C\.csv: its times cannot be read: 'time': 'noon' is not a time/),
    ]);
    const { fleet } = await loadFleet(join(cwd, "fleet.yaml"));
    expect(fleet.units.map(({ id }) => id)).toEqual(["A"]);
    expect(stdout).toMatch(/\nnot read, and so of no unit: 2 logs, named at the end of the file\n$/);
    expect(readFileSync(join(cwd, "fleet.yaml"), "utf8")).toMatch(
      /\n# B\.csv: it is no CSV.*\n# C\.csv: .*\n$/,
    );
  });

  it("takes the tables of a report for no logs, and names a log in which it finds no channel", async () => {
    const cwd = folderWith({
      "april-readings.csv":
        "unit,channel,from,to,least,mean,most\nA,motor_current,2026-05-04T00:00:00Z,2026-05-04T01:00:00Z,9,9,9\n",
      "A.csv": foreignLog(german),
      "tides.csv": "time,moon\n2026-05-04T00:00:00Z,3.5\n",
    });
    const { stdout } = await called(["init", "."], { cwd });
    expect(stdout).toContain("  no channel was found at tides: map the columns, or take out what is no log");
    expect(stdout).toMatch(
      /not read, .*: april-readings\.csv: it is a table that `report --csv` wrote, and no log\n$/,
    );
    expect(stdout).toContain("dialect    semicolon, decimal comma\n");
    expect(stdout).toContain("dialect    comma, decimal point\n");
  });

  it("writes nothing where none of the logs can be read", async () => {
    const cwd = folderWith({ "B.csv": "no columns\n" });
    const { status, stderr } = await called(["init", "."], { cwd });
    expect(status).toBe(2);
    expect(stderr).toContain(".: none of its 1 log can be read\n");
  });

  it.skipIf(process.getuid?.() === 0)(
    "tells of a folder that may not be read (skipped for root)",
    async () => {
      const cwd = folderWith({ "logs/A.csv": hour(0), "logs/shut/B.csv": hour(0) });
      chmodSync(join(cwd, "logs/shut"), 0);
      const { status, stderr } = await called(["init", "logs"], { cwd });
      chmodSync(join(cwd, "logs/shut"), 0o755);
      expect([status, stderr]).toEqual([0, "no permission to look into 'shut'\n"]);
    },
  );
});
