import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { startCollector } from "../../src/collector/collector.ts";
import { startKeeping } from "../../src/collector/keeping.ts";
import { day, hour } from "../../src/terms/time.ts";
import { called } from "../support/called.ts";
import { fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith, onlyError } from "../support/program.ts";
import { but, clean, midnight, readings, type Stretch } from "../support/unit-days.ts";

const now = "2026-05-04T15:00:00Z";
beforeEach(() => {
  vi.useFakeTimers({ now: Date.parse(now), toFake: ["Date"] });
});
afterEach(() => {
  vi.useRealTimers();
});

const sites = `sites:
  Heron Bend: { position: [41.88, -93.10], access: "gate code at the barn", working_hours: "07:00-18:00" }
  Mill Pond: { position: [41.95, -93.30] }
  Far Lake: {}
`;

/** Four units, of which LM-02 has lost its prime at Mill Pond; its folder. */
function fleet(top = "", thirdSite = "Far Lake"): string {
  const running = logText(readings([{ seconds: 14.99 * 3600, values: clean }], 60));
  const dry = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5, ozone: 0 };
  const lost = logText(
    readings(
      [
        { seconds: 14 * 3600, values: clean },
        { seconds: 0.99 * 3600, values: but(dry) },
      ],
      60,
    ),
  );
  const units = [
    "{ id: LM-01, site: Heron Bend, serial: S-7, service: { cleaner: { name: X7, dose: 40 mL, soak: 20 min } } }",
    "{ id: LM-02, site: Mill Pond, consequence: fish }",
    `{ id: LM-03, site: ${thirdSite} }`,
    "{ id: LM-04, season: 05-01..10-31 }",
  ];
  return folderWith({
    "fleet.yaml": fleetFile(units, `timezone: America/Chicago\nstate: state\n${sites}${top}`),
    "logs/LM-01.csv": running,
    "logs/LM-02.csv": lost,
    "logs/LM-03.csv": running,
    "logs/LM-04.csv": running,
  });
}

const services = `services:
  - { unit: LM-01, kind: inspection, at: 2026-05-01T12:00:00Z }
  - { unit: LM-01, kind: cleaning, at: 2026-04-03T12:00:00Z }
  - { unit: LM-03, kind: cleaning, at: 2026-04-04T20:00:00Z }
`;

const service = (cwd: string, ...args: readonly string[]) => called(["service", ...args], { cwd });

describe("what is told of a visit", () => {
  const visit = ["done", "fleet.yaml", "LM-01", "inspection", "--by", "Ann"];

  it("stands in the log, in the fleet's zone", async () => {
    const cwd = fleet();
    const told = ["--arrived", "08:50", "--left", "09:40", "--oxygen", "7.4 mg/L", "--secchi", "4 ft"];
    const more = [
      "--water",
      "64.4 degF",
      "--ground-fault",
      "tripped",
      "--part",
      "check valve",
      "--photo",
      "a.jpg",
    ];
    const kept = await service(cwd, ...visit, ...told, ...more, "--note", "much weed");
    expect([kept.status, kept.stdout.split("\n").slice(-4, -1)]).toEqual([
      0,
      ["LM-01: dissolved oxygen 7.4 mg/L", "LM-01: Secchi depth 1.22 m", "LM-01: water 18.0 °C"],
    ]);
    const { stdout } = await service(cwd, "log", "fleet.yaml", "LM-01");
    expect(stdout.split("\n")).toEqual([
      "Mon 4 May 2026 09:40:00 CDT  LM-01  inspection done by Ann",
      "  arrived 08:50, left 09:40",
      "  dissolved oxygen 7.4 mg/L, Secchi depth 1.22 m, water 18.0 °C",
      "  ground-fault test: the device tripped",
      "  parts: check valve",
      "  photos: a.jpg",
      "  much weed",
      "",
    ]);
    const { stdout: json } = await service(cwd, "log", "fleet.yaml", "--json");
    expect(JSON.parse(json)).toMatchObject({
      time: "2026-05-04T14:40:00.000Z",
      arrived: "2026-05-04T13:50:00.000Z",
      readings: { dissolved_oxygen_mg_l: 7.4, secchi_depth_m: 1.219, water_temperature_c: 18 },
      ground_fault_test: "tripped",
    });
  });

  it("of what is begun, planned or taken back is told as such, and not as lapsed before its time", async () => {
    const cwd = fleet();
    await service(cwd, "begin", "fleet.yaml", "LM-01", "repair", "--by", "Ann");
    const stop = [
      "--from",
      "2026-05-06T06:00:00-05:00",
      "--until",
      "2026-05-06T18:00:00-05:00",
      "--why",
      "drained",
    ];
    await service(cwd, "plan", "fleet.yaml", "LM-03", ...stop, "--by", "Ann");
    expect((await service(cwd, "log", "fleet.yaml")).stdout.split("\n")).toEqual([
      "Mon 4 May 2026 10:00:00 CDT  LM-01  repair begun by Ann",
      "Wed 6 May 2026 06:00:00 CDT  LM-03  planned stop until Wed 6 May 2026 18:00:00 CDT by Ann",
      "  drained",
      "",
    ]);
  });

  it("is refused where the clocks show its time twice, and is heard with its offset", async () => {
    vi.setSystemTime("2026-11-01T15:00:00Z");
    const cwd = fleet();
    expect(onlyError(await service(cwd, ...visit, "--left", "01:30"))).toContain(
      "--left '01:30' comes twice or never in America/Chicago",
    );
    expect((await service(cwd, ...visit, "--left", "2026-11-01T01:30:00-06:00")).status).toBe(0);
  });

  it.each([
    [["--oxygen", "74"], "--oxygen: '74' is too large; write 25 mg/L or less"],
    [["--secchi", "2 psi"], "--secchi: '2 psi' is not a length; write 1.5 m"],
    [["--water", "64 degC"], "--water: '64 degC' is too large; write 45 degC or less"],
    [["--water", "18"], "--water: '18' has no unit; write 18degC or 18degF"],
    [["--secchi", "4"], "--secchi: '4' has no unit; write 4m or 4ft"],
    [["--ground-fault", "ok"], "--ground-fault 'ok': say what its test button did"],
    [["--reading", "motor_current=7.1 V"], "--reading motor_current: '7.1 V' is not a current; write 9.8 A"],
    [["--read-at", "09:00"], "--read-at goes with --reading"],
    [
      ["--water", "18degC", "--reading", "water_temperature=18degC"],
      "--water and --reading water_temperature",
    ],
    [["--arrived", "09:00", "--left", "08:00"], "--left comes after --arrived"],
    [["--left", "11:00"], "--left lies ahead"],
    [["--reading", "ozon_in_air=1"], "'ozon_in_air' is no channel that a gauge shows; write ozone_in_air"],
    [["--at", "noon"], "--at 'noon' is not a time; write it like 14:30, or 2026-05-04 14:30"],
  ])("%j is refused in one line that says what to write, and nothing is kept", async (told, says) => {
    const cwd = fleet();
    expect(onlyError(await service(cwd, ...visit, ...told))).toContain(says);
    expect((await service(cwd, "log", "fleet.yaml")).stdout).toBe("no service is on record\n");
  });

  it("is of a kind of work: the one that is plainly meant is named, else all", async () => {
    const kind = async (name: string) =>
      onlyError(await service(fleet(), "done", "fleet.yaml", "LM-01", name, "--by", "Ann"));
    expect(await kind("cleanin")).toBe("'cleanin' is no kind of service; write cleaning");
    expect(await kind("dusting")).toBe(
      "'dusting' is no kind of service; write inspection, cleaning, repair, re-piping, lay-up, start-up or swap",
    );
  });

  it("a ground-fault device that does not trip, water short of oxygen and ozone in the air are answered at once", async () => {
    const told = ["--ground-fault", "did not trip", "--oxygen", "3", "--reading", "ozone_in_air=0.1 ppm"];
    const { stdout } = await service(fleet(), ...visit, ...told);
    expect(stdout).toMatch(/ozone in air at or past 0\.1 ppm, the limit .*: keep out, ozone off first/);
    expect(stdout).toMatch(/leave the unit unplugged and call a licensed electrician/);
    expect(stdout).toMatch(/below 4 mg\/L puts fish under stress \(common practice\)/);
    const worse = await service(fleet(), ...visit, "--oxygen", "1.2");
    expect(worse.stdout).toMatch(/below 2 mg\/L fish die \(common practice\)/);
  });

  it("a ground-fault device that did not trip stands everywhere until a later test trips, and low oxygen where there are fish", async () => {
    const few = logText(readings([{ seconds: 60, values: clean }], 10));
    const at = "site: Mill Pond, consequence: fish";
    const units = ["{ id: LM-01, site: Mill Pond }", `{ id: LM-02, ${at} }`, `{ id: LM-03, ${at} }`];
    const cwd = folderWith({
      "fleet.yaml": fleetFile(units, `timezone: America/Chicago\nstate: state\n${sites}`),
      ...Object.fromEntries([1, 2, 3].map((n) => [`logs/LM-0${n}.csv`, few])),
    });
    const test = (at: string, result: string) =>
      service(
        cwd,
        "done",
        "fleet.yaml",
        "LM-03",
        "inspection",
        "--by",
        "Ann",
        "--at",
        at,
        "--ground-fault",
        result,
      );
    const told = async (...args: readonly string[]) =>
      (await called([...args, "fleet.yaml"], { cwd })).stdout.replace(/\s+/g, " ");
    await test("09:30", "did not trip");
    await service(cwd, "done", "fleet.yaml", "LM-02", "inspection", "--by", "Ann", "--oxygen", "1.2");
    await service(cwd, "done", "fleet.yaml", "LM-01", "inspection", "--by", "Ann", "--oxygen", "1.2");
    const stands = /did not trip when tested \((4 May )?09:30, by Ann\)/;
    expect(await told("service", "due")).toMatch(
      new RegExp(`LM-03 NOW ground-fault device ${stands.source}`),
    );
    expect(await told("service", "route")).toMatch(stands);
    expect(await told("check")).toMatch(
      new RegExp(`NOW LM-03 Mill Pond Ground-fault device It ${stands.source}`),
    );
    const handover = await told("handover");
    expect(handover).toMatch(
      new RegExp(`WRONG NOW .*NOW LM-03, Mill Pond: Ground-fault device ${stands.source}`),
    );
    expect(handover).toMatch(/TO WATCH .*LM-02, Mill Pond: dissolved oxygen 1\.2 mg\/L at .* fish die/);
    // Nobody has said that fish live at LM-01.
    expect(handover).not.toContain("LM-01, Mill Pond: dissolved oxygen 1.2 mg/L at");
    await test("09:45", "tripped");
    expect(await told("service", "due")).not.toMatch(/did not trip/);
  });
});

it("times are taken and printed in the fleet's zone: a begun work, a planned stop, what is begun and planned", async () => {
  const cwd = fleet();
  const begun = await service(cwd, "begin", "fleet.yaml", "LM-01", "repair", "--by", "Ann", "--at", "08:30");
  expect(begun.stdout).toContain("its alarms are suppressed until 16:30 at the latest");
  const stop = ["--from", "2026-05-06 06:00", "--until", "2026-05-06 18:00", "--why", "drained"];
  const { stdout } = await service(cwd, "plan", "fleet.yaml", "LM-03", ...stop);
  expect(stdout).toContain("LM-03: stop planned from 6 May 06:00 until 6 May 18:00, for 12 h");
  const { stdout: due } = await service(cwd, "fleet.yaml");
  expect(due).toContain("LM-01  repair since 08:30, ends by itself at 16:30");
  expect(due).toContain("LM-03  stop planned from 6 May 06:00 until 6 May 18:00");
  const { units } = JSON.parse((await service(cwd, "fleet.yaml", "--json")).stdout);
  expect(units[2].planned).toMatchObject([
    { from: "2026-05-06T11:00:00.000Z", until: "2026-05-06T23:00:00.000Z" },
  ]);
});

it("a work that a colleague has begun is not begun anew, as on the screen; one's own is, and another work is", async () => {
  const cwd = fleet();
  const begin = (by: string, work: string) =>
    service(cwd, "begin", "fleet.yaml", "LM-01", work, "--by", by, "--for", "2h");
  await begin("Ben", "repair");
  vi.setSystemTime("2026-05-04T15:30:00Z");
  expect(onlyError(await begin("Ann", "repair"))).toContain(
    "LM-01: repair is begun already, by Ben since 10:00; write service end once it is over",
  );
  expect((await begin("Ann", "cleaning")).status).toBe(0);
  expect((await begin("Ben", "repair")).stdout).toContain("until 12:30");
  vi.setSystemTime("2026-05-04T17:30:00Z");
  expect((await begin("Ann", "repair")).status).toBe(0);
});

describe("what was begun", () => {
  const tell = (cwd: string, ...args: string[]) => service(cwd, ...args, "--by", "Ann");
  const openIn = async (cwd: string) => {
    const { units } = JSON.parse((await service(cwd, "fleet.yaml", "--json")).stdout);
    return units[0].begun.map(({ work }: { work: string }) => work);
  };

  it("is over once somebody says that it was done, and what is begun beside it is told", async () => {
    const cwd = fleet();
    await tell(cwd, "begin", "fleet.yaml", "LM-01", "cleaning", "--at", "09:00");
    await tell(cwd, "begin", "fleet.yaml", "LM-01", "repair", "--at", "09:10");
    const { stdout } = await tell(cwd, "done", "fleet.yaml", "LM-01", "cleaning");
    expect(stdout).toContain("LM-01: cleaning ended, and on record as done, begun by Ann at 09:00\n");
    expect(stdout).toContain("LM-01: repair is still begun, and suppresses alarms");
    expect(await openIn(cwd)).toEqual(["repair"]);
    expect((await service(cwd, "fleet.yaml")).stdout).toMatch(/LM-01 {2}cleaning .*last 4 May/);
  });

  it("stays begun where what was done was done before it", async () => {
    const cwd = fleet();
    await tell(cwd, "begin", "fleet.yaml", "LM-01", "cleaning", "--at", "09:00");
    const { stdout } = await tell(cwd, "done", "fleet.yaml", "LM-01", "cleaning", "--at", "08:00");
    expect(stdout).toContain("LM-01: cleaning on record as done\n");
    expect(stdout).toContain("LM-01: cleaning is still begun");
    expect(await openIn(cwd)).toEqual(["cleaning"]);
  });

  it("is ended by its unit alone where it is the only one, else by its name", async () => {
    const cwd = fleet();
    const end = (...more: string[]) => tell(cwd, "end", "fleet.yaml", "LM-01", ...more);
    expect(onlyError(await end())).toContain("LM-01: nothing is begun there; write service done");
    await tell(cwd, "begin", "fleet.yaml", "LM-01", "cleaning", "--at", "09:00");
    expect(onlyError(await end("repair"))).toContain("LM-01: no repair is begun there (begun: cleaning)");
    expect(onlyError(await end("--at", "08:59"))).toContain("cleaning was begun at 09:00, after the end");
    await tell(cwd, "begin", "fleet.yaml", "LM-01", "repair");
    expect(onlyError(await end())).toContain(
      "LM-01: cleaning and repair are begun; write which: service end FLEET LM-01 cleaning",
    );
    await end("repair");
    expect((await end()).stdout).toContain("LM-01: cleaning ended");
    expect(await openIn(cwd)).toEqual([]);
  });
});

describe("a skid that is swapped", () => {
  it("leaves its serial number and takes the place of the other; the fleet file is to follow", async () => {
    const cwd = fleet();
    const { stdout } = await service(cwd, "swap", "fleet.yaml", "LM-01", "--serial", "S-9", "--by", "Ann");
    expect(stdout).toContain(
      "LM-01: skid S-9 stands there now in place of S-7; the place keeps its baseline",
    );
    expect(onlyError(await service(cwd, "swap", "fleet.yaml", "LM-01", "--serial", "S-9"))).toContain(
      "skid S-9 stands there already",
    );
    expect((await service(cwd, "log", "fleet.yaml")).stdout).toContain("skid S-9 came, S-7 went");
    expect((await service(cwd, "due", "fleet.yaml")).stdout).toContain(
      "skid S-9 by the last swap: write serial: S-9",
    );
  });
});

describe("what is due", () => {
  it("is told by site, the first first, without anything being kept", async () => {
    const cwd = fleet(services);
    const { stdout, status } = await service(cwd, "due", "fleet.yaml");
    expect(status).toBe(0);
    expect(stdout.split("\n")).toEqual([
      "Heron Bend",
      "  LM-01  cleaning    overdue since 3 May   every 30 d; last 3 Apr",
      "  LM-01  inspection  31 May, in 26 d 21 h  every 30 d; last 1 May",
      "Far Lake",
      "  LM-03  cleaning    4 May, in 5 h       every 30 d; last 4 Apr",
      "  LM-03  inspection  2 Jun, in 29 d 9 h  every 30 d; first reading 3 May",
      "Mill Pond",
      "  LM-02  inspection  2 Jun, in 29 d 9 h  every 30 d; first reading 3 May",
      "  LM-02  cleaning    2 Jun, in 29 d 9 h  every 30 d; first reading 3 May",
      "without a site",
      "  LM-04  start-up: the season began on 1 May",
      "  LM-04  inspection  2 Jun, in 29 d 9 h  every 30 d; first reading 3 May",
      "  LM-04  cleaning    2 Jun, in 29 d 9 h  every 30 d; first reading 3 May",
      "",
    ]);
    const { stdout: log } = await service(cwd, "log", "fleet.yaml");
    expect(log.split("\n")).toHaveLength(4);
  });

  it("has its year where it is far, and the date of the fleet's zone", async () => {
    // 03:00 UTC of 2 May is the evening of 1 May in Chicago; 400 d later as well.
    const done = "services:\n  - { unit: LM-03, kind: cleaning, at: 2026-05-02T03:00:00Z }\n";
    const cwd = fleet(`${done}defaults: { service: { cleaning_every: 400 d } }\n`);
    expect((await service(cwd, "fleet.yaml")).stdout).toMatch(
      /LM-03 {2}cleaning +5 Jun 2027, in 39\d d .*last 1 May/,
    );
  });

  it("is data for scripts", async () => {
    const { stdout } = await service(fleet(services), "due", "fleet.yaml", "--json");
    const { units } = JSON.parse(stdout);
    expect(units[0]).toMatchObject({
      id: "LM-01",
      site: "Heron Bend",
      works: expect.arrayContaining([
        expect.objectContaining({
          work: "cleaning",
          due: "2026-05-03T12:00:00.000Z",
          overdue: true,
          because: "interval",
          last: "2026-04-03T12:00:00.000Z",
        }),
      ]),
    });
  });
});

describe("the route of a day", () => {
  it("goes to what is wrong now first, loads the cleaner, and tells of sites without a position", async () => {
    const { stdout, status } = await service(
      fleet(services),
      "route",
      "fleet.yaml",
      "--from",
      "41.90,-93.20",
    );
    expect(status).toBe(0);
    expect(stdout).toMatch(/^1 {2}10:\d\d to .*Mill Pond/m);
    expect(stdout).toMatch(/Lost prime\. Now/);
    expect(stdout).toMatch(/^2 {2}11:\d\d to .*Heron Bend/m);
    expect(stdout).toContain("access: gate code at the barn");
    expect(stdout).toMatch(
      /Without a place in the order[\s\S]*Far Lake[\s\S]*LM-03[\s\S]*cleaning due 4 May/,
    );
    expect(stdout).toMatch(/^ {3}\[ \] LM-02$/m);
    expect(stdout).toContain("  - X7, 40 mL");
    expect(stdout).not.toContain("LM-04");
    for (const line of stdout.split("\n")) expect([...line].length, line).toBeLessThanOrEqual(80);
  });

  it("drives the great circle times the road factor at the speed told", async () => {
    const args = [
      "route",
      "fleet.yaml",
      "--from",
      "41.95,-93.30",
      "--road-factor",
      "2",
      "--speed",
      "60",
      "--json",
    ];
    const { visits, drive_km, drive_min } = JSON.parse((await service(fleet(services), ...args)).stdout);
    // Mill Pond to Heron Bend and back; by the spherical law of cosines it is 18.288 km.
    expect(drive_km).toBeCloseTo(2 * 2 * 18.288, 1);
    expect(drive_min).toBeCloseTo(drive_km, 1);
    expect(visits.map(({ site }: { site: string }) => site)).toEqual(["Mill Pond", "Heron Bend"]);
  });

  it("stays at a site for what can wait there too, where there is time", async () => {
    const { stdout } = await service(fleet(services, "Mill Pond"), "route", "fleet.yaml", "--json");
    const { visits } = JSON.parse(stdout) as { visits: { site: string; units: { id: string }[] }[] };
    expect(visits.map(({ site, units }) => [site, ...units.map(({ id }) => id)])).toEqual([
      ["Mill Pond", "LM-02", "LM-03"],
      ["Heron Bend", "LM-01"],
    ]);
  });

  it("that is too short leaves the least pressing for another day", async () => {
    const { stdout } = await service(fleet(services), "route", "fleet.yaml", "--until", "09:00");
    expect(stdout).toMatch(/Not on that day[\s\S]*Heron Bend/);
  });

  it.each([
    [
      ["--from", "41.9"],
      "--from '41.9' is not a position; write degrees of latitude and longitude: 41.88,-93.10",
    ],
    [["--start", "8"], "--start '8' is not a time of day; write it like 08:00"],
    [["--start", "18:00"], "--until comes after --start"],
    [["--on", "2026-05-03"], "--on 2026-05-03 is over; write today's date or a later one"],
    [["--on", "2026-05-04", "--until", "09:00"], "of that day nothing is left before 09:00"],
    [["--on", "tomorrow"], "--on 'tomorrow' is not a day; write it like 2026-05-04"],
  ])("%j is refused in one line", async (args, says) => {
    expect(onlyError(await service(fleet(), "route", "fleet.yaml", ...args))).toContain(says);
  });
});

it("a day far ahead is ordered by what is due then, and says what is left out", async () => {
  const { stdout } = await service(fleet(services), "route", "fleet.yaml", "--on", "2026-06-02");
  expect(stdout).toMatch(/Left out: what is wrong now at LM-02/);
  expect(stdout).not.toContain("Lost prime");
  expect(stdout).toMatch(/LM-02\n {5}inspection and cleaning due 2 Jun/);
});

it("where no site has a position, a route says so and drives nowhere", async () => {
  const units = ["{ id: LM-01, site: Far Lake, service: { cleaning_every: 1 d } }"];
  const cwd = folderWith({
    "fleet.yaml": fleetFile(units, "state: state\nsites: { Far Lake: {} }\n"),
    "logs/LM-01.csv": logText(readings([{ seconds: 60, values: clean }], 10)),
  });
  const { stdout } = await service(cwd, "route", "fleet.yaml");
  expect(stdout).toMatch(/since the fleet file has no position[\s\S]*Far Lake\n {3}LM-01/);
  expect(stdout).not.toMatch(/0 visits|0 km/);
});

describe("a checklist", () => {
  it("takes the maker's words from the fleet file, and fits the terminal", async () => {
    const { stdout } = await service(fleet(), "checklist", "cleaning", "fleet.yaml", "LM-01");
    expect(stdout).toContain("[ ] Put 40 mL of X7 into the generator");
    expect(stdout).toContain("[ ] Let it stand for 20 min. (by the fleet file)");
    expect(stdout).toContain("[ ] Rinse 3 times, until the water is clear. (common practice)");
    for (const line of stdout.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
  });

  it("is there without a fleet, and says which kinds there are", async () => {
    expect((await service(fleet(), "checklist", "start-up")).stdout).toContain("Checklist: start-up");
    expect(onlyError(await service(fleet(), "checklist", "cleanin"))).toContain("write cleaning");
  });
});

/** A day clean, two days in which gas pressure rises by 7 kPa, an hour's stop for the cleaning, and half a day after it at `gas`. */
const stretches = (gas: number): readonly Stretch[] => [
  { seconds: 24 * 3600, values: clean },
  { seconds: 48 * 3600, values: (s) => but({ gas_pressure: 24 + (7 * s) / (48 * 3600) })(s) },
  { seconds: 3600, values: { motor_current: 0, discharge_pressure: 0, gas_pressure: 0, ozone: 0 } },
  { seconds: 12 * 3600, values: but({ gas_pressure: gas }) },
];

/** Has the logs of a folder read and kept in its state folder. */
async function collected(text: string, folder: string, atMs: number): Promise<void> {
  const state = join(folder, "state");
  const asked = await startKeeping({ folder: state, kind: "watch" });
  if (!("kept" in asked)) throw new Error("the state folder cannot be used");
  const collector = await startCollector(
    {
      fleet: { ...fleetOf(text, folder), logs: join(folder, "logs") },
      stateFolder: state,
      clock: { originMs: atMs, wallMs: 0, speed: 0 },
    },
    { onChange: () => undefined },
    { keeping: asked.kept },
  );
  await vi.waitFor(() => expect(collector.view().catchingUp).toBeUndefined(), { timeout: 10_000 });
  await collector.close();
  asked.kept.close();
}

describe("whether a cleaning worked", () => {
  const cleanedMs = midnight + 73 * hour;

  async function logOf(gas: number): Promise<string> {
    const atMs = midnight + 3 * day + 13 * hour;
    const text = fleetFile(["{ id: LM-01 }"], "state: state\n");
    const folder = folderWith({
      "fleet.yaml": text,
      "logs/LM-01.csv": logText(readings(stretches(gas), 60)),
    });
    vi.useRealTimers();
    await collected(text, folder, atMs);
    vi.useFakeTimers({ now: atMs, toFake: ["Date"] });
    const times = [cleanedMs - hour, cleanedMs].map((timeMs) => new Date(timeMs).toISOString());
    const [arrived, left] = times;
    const visit = ["--arrived", arrived, "--left", left, "--by", "Ann"];
    const gauge = [
      "--reading",
      "gas_pressure=3.6 psi",
      "--read-at",
      new Date(cleanedMs + hour).toISOString(),
    ];
    const { stdout } = await service(folder, "done", "fleet.yaml", "LM-01", "cleaning", ...visit, ...gauge);
    expect(stdout).toContain(`LM-01: gas pressure 24.8 kPa (logger ${gas.toFixed(1)} kPa`);
    return (await service(folder, "log", "fleet.yaml")).stdout.replaceAll(/\s+/g, " ");
  }

  it("shows in the log from gas pressure before and after", async () => {
    const worked = await logOf(24.2);
    // By hand 3.6 psi, that is 24.82 kPa.
    expect(worked).toContain("gas pressure 24.8 kPa (logger 24.2 kPa: 0.6 kPa lower)");
    expect(worked).toMatch(
      /gas pressure 29\.\d kPa before, 24\.2 kPa after, 24\.0 kPa when clean: it worked/,
    );
    expect(await logOf(29)).toMatch(/29\.0 kPa after, 24\.0 kPa when clean: it did not bring the line back/);
  });
});

it("a cleaning is booked by the trend of gas pressure with its interval, an inspection by the kept hours of running", async () => {
  const text = fleetFile(["{ id: LM-01, service: { inspection_running: 100 h } }"], "state: state\n");
  const log = logText(readings(stretches(24).slice(0, 2), 60));
  const folder = folderWith({ "fleet.yaml": text, "logs/LM-01.csv": log });
  const atMs = midnight + 3 * day;
  vi.useRealTimers();
  await collected(text, folder, atMs);
  vi.useFakeTimers({ now: atMs, toFake: ["Date"] });
  const { stdout } = await service(folder, "due", "fleet.yaml");
  expect(stdout).toMatch(/cleaning .*gas pressure: \d+ May to (\d+ May|open)/);
  // 28 h are left at 24 h a day.
  expect(stdout).toMatch(/inspection {2}8 May, in 1 d \d h +ran 72 of 100 h; first reading 4 May/);
});

it("a baseline is confirmed where there is one, and refused where none has been learned", async () => {
  const log = (seconds: number) => logText(readings([{ seconds, values: clean }], 60));
  const units = ["{ id: LM-01 }", "{ id: LM-02 }"];
  const cwd = folderWith({
    "fleet.yaml": fleetFile(units, "state: state\n"),
    "logs/LM-01.csv": log(4 * 3600),
    "logs/LM-02.csv": log(300),
  });
  const confirm = (unit: string) => service(cwd, "baseline", "fleet.yaml", unit, "confirm", "--by", "Ann");
  const refused = await confirm("LM-02");
  expect(onlyError(refused)).toMatch(/LM-02: there is no baseline to confirm yet: .* once check has it/);
  expect((await service(cwd, "log", "fleet.yaml")).stdout).toBe("no service is on record\n");
  expect((await confirm("LM-01")).stdout).toContain("LM-01: its baseline is confirmed");
});

it("a work whose time is over already suppresses nothing, and is not said to", async () => {
  const told = ["--by", "Ann", "--at", "07:00", "--for", "1h"];
  const { stdout } = await service(fleet(), "begin", "fleet.yaml", "LM-01", "repair", ...told);
  expect(stdout).toContain(
    "repair begun at 07:00 and over by itself at 08:00: no alarm is suppressed by it now",
  );
  expect(stdout).not.toContain("until 08:00");
});
