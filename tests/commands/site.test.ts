import { chmodSync, copyFileSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { encodeUnit } from "../../src/collector/checkpoint.ts";
import { must } from "../../src/commands/kept-state.ts";
import { saveUnits } from "../../src/store/checkpoints.ts";
import { openDatabase } from "../../src/store/database.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { called } from "../support/called.ts";
import { fleetFile, quietDay } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf, readAlone } from "../support/played.ts";
import { folderWith, onlyError, projectFolder } from "../support/program.ts";
import { known } from "../support/sites.ts";
import { readings } from "../support/unit-days.ts";

const keys = (over: Partial<typeof known> = {}) =>
  Object.entries({ ...known, ...over })
    .filter(([, value]) => value !== "")
    .map(([key, value]) => `, ${key}: ${value}`)
    .join("");
const right = `{ id: LM-01${keys()} }`;
const cwd = folderWith({
  "fleet.yaml": fleetFile([right, `{ id: LM-02 }`]),
  "wrong.yaml": fleetFile([
    right,
    `{ id: LM-02${keys({ piping: "{ suction_lift: 9 ft, check_valve: false }" })} }`,
  ]),
});
const demo = folderWith({});
copyFileSync(join(projectFolder, "sample-logs", "fleet.yaml"), join(demo, "fleet.yaml"));

describe("site", () => {
  it("exits 0 where nothing failed, also where something is not known, and 1 where something did", async () => {
    expect((await called(["site"], { cwd })).status).toBe(0);
    expect((await called(["site", "wrong.yaml"], { cwd })).status).toBe(1);
    expect((await called(["site", "wrong.yaml", "--unit", "LM-01"], { cwd })).status).toBe(0);
  });

  it.each([[[]], [["--what-if", "suction_lift=9ft"]], [["--what-if", "suction_length=1ft"]]])(
    "prints no line of more than 80 columns for the demonstration's fleet (%j)",
    async (more) => {
      const { stdout } = await called(["site", ...more], { cwd: demo });
      const lines = stdout.split("\n");
      expect(lines.length).toBeGreaterThan(24 * 5);
      expect(lines.filter((line) => [...line].length > 80)).toEqual([]);
    },
  );

  it("ends with the cautions of water and electricity", async () => {
    const { stdout } = await called(["site"], { cwd });
    expect(stdout.replaceAll("\n", " ")).toMatch(
      /licensed electrician.*ground-fault protection.*maker's manual/,
    );
  });

  it("gives every line as JSON in stored units", async () => {
    const { stdout } = await called(["site", "--json", "--unit", "LM-01"], { cwd });
    const [unit] = JSON.parse(stdout).units;
    expect(unit).toMatchObject({ id: "LM-01", site: null, verdict: "pass", assumed: [] });
    expect(unit.lines).toContainEqual({
      check: "circuit load",
      verdict: "pass",
      value: expect.closeTo(11.2, 9),
      limit: 12,
      sense: "at most",
      unit: "A",
      source: "NEC 210.20(A)",
      note: null,
      enter: [],
    });
  });

  it("begins with a line a unit, the worst first, and what most lines want entered", async () => {
    const { stdout } = await called(["site", "wrong.yaml"], { cwd });
    const [, worst, right, blank, head] = stdout.split("\n");
    expect(worst).toMatch(/^LM-02: \d+ pass, 0 caution, 1 fail, \d+ not judged: enter piping\.[a-z_]+, .*…$/);
    expect(right).toBe("LM-01: 22 pass, 0 caution, 0 fail, 0 not judged");
    expect([blank, head]).toEqual(["", "FAIL  LM-02"]);
  });

  it("tells what to enter, once a key, with the lines that want it, after what is judged", async () => {
    const { stdout } = await called(["site", "--unit", "LM-02"], { cwd });
    expect(stdout.replaceAll(/\n +/g, " ")).toMatch(
      /^Not judged, by what to enter: .* piping\.suction_lift: suction lift, check valve, NPSH available, water falls by, priming time, vacuum, discharge pressure /m,
    );
    expect(stdout.match(/ piping\.suction_lift:/g)).toHaveLength(1);
    expect(stdout).not.toMatch(/^unknown +suction lift/m);
  });
});

describe("site --what-if", () => {
  it("shows before and after of what changes, and exits by the after", async () => {
    const { status, stdout } = await called(["site", "--unit", "LM-01", "--what-if", "suction_lift=7ft"], {
      cwd,
    });
    expect(status).toBe(1);
    expect(stdout).toContain("\nwhat if piping.suction_lift=7ft (stored as 2.134 m)\n");
    expect(stdout).toContain("PASS → FAIL  LM-01");
    expect(stdout).toMatch(/^suction lift +pass 1.5 m +→ pass 2.4 m +at most 7.6 m$/m);
    expect(stdout).toMatch(/^check valve +pass none +→ fail none +at most 1.8 m without$/m);
    expect(stdout).not.toContain("circuit load");
    expect(stdout).toMatch(/^\d+ lines unchanged$/m);
  });

  it("holds no reading of the installation as it is against the one that is tried", async () => {
    const args = ["--measured", "suction_pressure=-14kPa", "--what-if", "suction_lift=-1m"];
    const { stdout } = await called(["site", "--json", "--unit", "LM-01", ...args], { cwd });
    const [unit] = JSON.parse(stdout).units;
    const vacuum = (lines: { check: string }[]) => lines.find(({ check }) => check === "vacuum");
    expect(vacuum(unit.before.lines)).toMatchObject({ verdict: "pass", value: expect.closeTo(-14, 9) });
    expect(vacuum(unit.lines)).toMatchObject({
      verdict: "unknown",
      value: null,
      sense: "about",
      note: expect.stringContaining("Its reading is of the unit as it is"),
    });
  });

  it("says that a reading is withheld also where nothing tells what the gauge ought to show", async () => {
    const args = ["--measured", "suction_pressure=-14kPa", "--what-if", "suction_lift=2m"];
    const { stdout } = await called(["site", "--unit", "LM-02", ...args], { cwd });
    expect(stdout).toMatch(/^vacuum +unknown -14 kPa +→ unknown .*\n +Its reading is of the unit as it is/m);
  });

  it.each([
    ["a lift changes the pressures, not the current", "suction_lift=7ft", ["vacuum", "discharge pressure"]],
    ["a nameplate changes the current alone", "full_load_current=9.9A", ["motor current"]],
    ["a circuit, an NPSH or a depth changes none", "circuit=20A", []],
    ["a circuit, an NPSH or a depth changes none", "npsh_required=3m", []],
    ["a circuit, an NPSH or a depth changes none", "discharge_depth=5ft", []],
  ])("withholds only readings that what is tried would change: %s (%s)", async (_, tried, withheld) => {
    const { stdout } = await called(["site", "--json", "--unit", "LM-01", "--what-if", tried], { cwd });
    const lines: { check: string; verdict: string }[] = JSON.parse(stdout).units[0].lines;
    const open = lines.filter(({ verdict }) => verdict === "unknown").map(({ check }) => check);
    expect(open).toEqual(withheld);
  });

  it("takes several keys, and gives both as JSON", async () => {
    const args = ["--what-if", "suction_lift=7ft", "--what-if", "check_valve=true"];
    const { status, stdout } = await called(["site", "--json", "--unit", "LM-01", ...args], { cwd });
    const { tried, units } = JSON.parse(stdout);
    const [unit] = units;
    expect(tried).toEqual([
      { key: "piping.suction_lift", written: "7ft", stored: "2.134 m" },
      { key: "piping.check_valve", written: "true", stored: null },
    ]);
    const valve = (lines: { check: string; verdict: string }[]) =>
      lines.find(({ check }) => check === "check valve");
    expect(status).toBe(0);
    expect(valve(unit.lines)).toMatchObject({ verdict: "pass", value: expect.closeTo(2.1336 + 0.3, 9) });
    expect(valve(unit.before.lines)).toMatchObject({
      verdict: "pass",
      value: expect.closeTo(1.2192 + 0.3, 9),
    });
  });

  it.each([
    [
      ["--what-if", "suction_lft=7ft"],
      "--what-if 'suction_lft' is no key of a unit; the nearest is suction_lift",
    ],
    [
      ["--what-if", "suction_lift=7"],
      "--what-if piping.suction_lift: '7' has no unit; write suction_lift=7m or suction_lift=7ft",
    ],
    [
      ["--unit", "LM-01", "--measured", "suction_pressure=-12"],
      "--measured suction_pressure: '-12' has no unit; write suction_pressure=-12kPa or suction_pressure=-12psi or suction_pressure=-12inHg",
    ],
    [
      ["--unit", "LM-01", "--measured", "suction_pressure=12 kPa"],
      "--measured suction_pressure: '12 kPa' is above zero, where by suction_lift the pump lifts its water: its gauge shows a vacuum, which is written with a minus",
    ],
    [["--unit", "LM-03"], "'LM-03' is no unit of this fleet; the nearest is LM-01"],
    [["--measured", "flow=75"], "--measured: say of which unit with --unit"],
    [
      ["--unit", "LM-01", "--measured", "flow"],
      "--measured 'flow' is no reading; write CHANNEL=VALUE, such as suction_pressure=-12kPa",
    ],
    [
      ["--unit", "LM-01", "--measured", "flaw=75"],
      "--measured flaw: this key is not known; the nearest is flow",
    ],
  ])("%j is told in one line, and the status is 2", async (args, line) => {
    expect(onlyError(await called(["site", ...args], { cwd }))).toBe(line);
  });
});

describe("what the gauges showed", () => {
  it("comes from the command line before the commissioning record, and can be kept with the unit", async () => {
    const { stdout } = await called(
      [
        "site",
        "--unit",
        "LM-01",
        "--measured",
        "suction_pressure=12inHg",
        "--measured",
        "motor_current=9.1 A",
        "--by",
        'Ann "Pond" Lee',
      ],
      { cwd },
    );
    expect(stdout).toMatch(/^caution +vacuum +-40.6 kPa/m);
    expect(stdout).toMatch(/^pass +discharge pressure +93 kPa/m);
    // Written under the unit as it is printed, it is read as the record of that day and person.
    const [, line = ""] = /^ {2}(commissioning: \{[^}]*\})/m.exec(stdout) ?? [];
    const [unit] = fleetOf(
      `units:\n  - id: LM-01\n    ${line.replace("\n ", "\n      ")}\n`,
      "/nowhere",
    ).units;
    expect(unit.commissioning).toMatchObject({
      on: expect.stringMatching(/^\d{4}-\d\d-\d\d$/),
      by: 'Ann "Pond" Lee',
      values: { motor_current: 9.1, suction_pressure: -40.64 },
    });
  });

  it("comes from the kept baseline where nobody wrote it down, which a person is asked to confirm", async () => {
    const folder = folderWith({
      "fleet.yaml": fleetFile([`{ id: LM-01${keys({ commissioning: "" })} }`], "state: state\n"),
      "logs/LM-01.csv": logText(readings(quietDay)),
    });
    const fleet = fleetOf(readFileSync(join(folder, "fleet.yaml"), "utf8"), folder);
    const { player } = await readAlone(fleet);
    const place = must(await openStateFolder(join(folder, "state")));
    const { db } = must(openDatabase(place));
    const text = encodeUnit(player.state);
    const nothing = { logs: {} as never, people: null, events: [], wordRow: 0, serviceRow: 0 };
    must(saveUnits(db, [{ unit: "LM-01", text, ...nothing }]));
    db.close();
    const { stdout } = await called(["site", "--json"], { cwd: folder });
    const [unit] = JSON.parse(stdout).units;
    expect(unit.measured.motor_current).toEqual({
      value: expect.closeTo(9.3, 1),
      from: "provisional baseline",
    });
    expect((await called(["site"], { cwd: folder })).stdout.replaceAll("\n", " ")).toContain(
      "tarnwatch service baseline FLEET LM-01 confirm",
    );
  });
});

describe("site --record", () => {
  it("keeps what the gauges showed in the fleet file, where the next look finds it", async () => {
    const folder = folderWith({ "fleet.yaml": fleetFile([right, "{ id: LM-02 }"]) });
    const measured = ["site", "--unit", "LM-01", "--measured", "motor_current=9.1A"];
    chmodSync(join(folder, "fleet.yaml"), 0o640);
    const kept = await called([...measured, "--by", "Ann", "--record"], { cwd: folder });
    expect(statSync(join(folder, "fleet.yaml")).mode & 0o777).toBe(0o640);
    expect(kept.stdout).toContain("Kept in the fleet file as the commissioning record of LM-01");
    expect(readFileSync(join(folder, "fleet.yaml"), "utf8")).toMatch(
      /commissioning: \{ on: \d{4}-\d\d-\d\d, by: "Ann", motor_current: 9\.1 A \}/,
    );
    const again = await called(["site", "--unit", "LM-01"], { cwd: folder });
    expect(again.stdout).toContain("commissioning record by Ann");
  });

  it.each([
    ["fleet: F\nlogs: logs\nunits:\n  - { id: 01 }\n", "01"],
    [
      "fleet: F\nlogs: logs\nunits:\n  - { id: A, commissioning: &r { flow: 2 L/s } }\n  - { id: B, commissioning: *r }\n",
      "A",
    ],
  ])("leaves a fleet file as it is where not just the one unit would change: %j", async (yaml, unit) => {
    const folder = folderWith({ "fleet.yaml": yaml });
    const measured = ["site", "--unit", unit, "--measured", "motor_current=9.1A", "--record"];
    expect((await called(measured, { cwd: folder })).stderr).toContain("write under it: commissioning: {");
    expect(readFileSync(join(folder, "fleet.yaml"), "utf8")).toBe(yaml);
  });

  it("wants something that was measured", async () => {
    expect(onlyError(await called(["site", "--record"], { cwd }))).toBe(
      "--record goes with --measured: say what the gauges showed",
    );
  });
});
