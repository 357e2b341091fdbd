import { describe, expect, test } from "vitest";
import { settingsAt } from "../../src/fleet/limits.ts";
import { readFleet } from "../../src/fleet/read.ts";
import type { Fleet, Unit } from "../../src/fleet/unit.ts";
import { ruleSettings } from "./rules.ts";

function fleetOf(text: string, folder = "/srv/larkmoor"): Fleet {
  const result = readFleet(text, { path: "fleet.yaml", folder }, ruleSettings);
  if ("problems" in result) throw new Error(result.problems.join("\n"));
  return result.fleet;
}

function unitOf(lines: string): Unit {
  const [unit] = fleetOf(`units:\n  - id: LM-01\n    ${lines.replaceAll("\n", "\n    ")}\n`).units;
  if (unit === undefined) throw new Error("no unit");
  return unit;
}

const manual = `
fleet: Larkmoor ponds
timezone: America/Chicago
display: us
logs: logs
state: /var/lib/tarnwatch
order_within: 5 s
sites:
  Heron Bend:
    position: [41.88, -93.10]
    customer: Larkmoor Association
    access: gate by the boathouse
    working_hours: "07:00-18:00"
    ozone_permission: { number: 0417, until: 2027-03-31 }
units:
  - id: LM-01
    site: Heron Bend
    serial: 00417
    log: LM-01*.csv
    sample_interval: 10 s
    arrives_every: 1 h
    runs: ["05:30-21:00", "22:00 - 01:00"]
    season: 04-01..11-15
    consequence: fish
    ozone: fitted
    logger_power: same outlet
    motor:    { full_load_current: 9.8 A, service_factor: 1.15, insulation_class: B, voltage: 115 V, temperature_at: winding, starts_per_hour: 6 }
    pump:     { npsh_required: 2.5 m, shutoff_head: 18 m, rated_flow: 75 L/min, rated_head: 11 m, air_handling: 20 L/min, motor_load: 80 %, type: regenerative }
    piping:   { suction_lift: 4 ft, suction_length: 15 ft, discharge_length: 18 ft, inside_diameter: 1.61 in, check_valve: true, material: rubber hose, suction_fittings: { elbow: 2, foot_valve: 1 } }
    gas:      { feed: drawn in, injected: suction }
    supply:   { circuit: 15 A, run_length: 3 ft, wire: 12 AWG, overload: 10 A, ozone_load: 0.3 A, other_load: 0.4 A }
    generator: { flow: 75 L/min, pressure: 14 psi }
    water:    { coldest: 4 degC, warmest: 27 degC, falls: 50 cm, rises: 20 cm }
    elevation: 120 m
    discharge_depth: 5 ft
    columns:
      time: datetime
      motor_current: { column: Amps, unit: mA }
      suction_pressure: { column: Vac, unit: psi, vacuum: true }
      gas_pressure: { column: Feed, unit: mA, range: [4, 20], scale: [0, 0.4 bar] }
      vibration: [Accel X, { column: Accel Y, unit: m/s2 }]
      flow: Rate
    baseline: { from: 2026-05-01T00:00:00Z, for: 3 h }
    service:
      inspection_every: 14 d
      cleaning_every: 60 d
      cleaning_running: 700 h
      cleaner: { name: X7, dose: 1.5 fl oz, strength: 1 part in 10, soak: 20 min, rinses: 5 }
      parts: [O-ring 42 mm]
    limits: { overheating: { delay: 45 s, priority: medium, latched: true } }
services:
  - { unit: LM-01, kind: planned stop end, at: 2026-05-03T12:00:00Z }
  - { unit: LM-01, kind: cleaning, at: 2026-05-02T09:00:00-05:00 }
  - { unit: LM-01, kind: repair begin, at: 2026-05-03T11:00:00Z }
`;

describe("a fleet file with every key of the manual", () => {
  const fleet = fleetOf(manual);

  test("gives the fleet", () => {
    expect(fleet).toMatchObject({
      name: "Larkmoor ponds",
      timezone: "America/Chicago",
      display: "us",
      logs: "/srv/larkmoor/logs",
      state: "/var/lib/tarnwatch",
      orderWithinMs: 5000,
      sites: [
        {
          name: "Heron Bend",
          position: [41.88, -93.1],
          customer: "Larkmoor Association",
          access: "gate by the boathouse",
          workingHours: "07:00-18:00",
        },
      ],
    });
  });

  test("gives the unit in stored units", () => {
    expect(fleet.units).toEqual([
      {
        id: "LM-01",
        site: "Heron Bend",
        serial: "00417",
        log: "LM-01*.csv",
        sampleIntervalMs: 10_000,
        arrivesEveryMs: 3_600_000,
        runs: {
          kind: "windows",
          windows: [
            { from: 330, to: 1260 },
            { from: 1320, to: 60 },
          ],
        },
        season: { from: 401, to: 1115 },
        consequence: "fish",
        ozone: "fitted",
        loggerPower: "same outlet",
        motor: {
          fullLoadCurrentA: 9.8,
          serviceFactor: 1.15,
          insulationClass: "B",
          voltageV: 115,
          temperatureAt: "winding",
          startsPerHour: 6,
        },
        pump: {
          npshRequiredM: 2.5,
          shutoffHeadM: 18,
          ratedFlowLpm: 75,
          ratedHeadM: 11,
          airHandlingLpm: 20,
          motorLoadPercent: 80,
          type: "regenerative",
        },
        piping: {
          suctionLiftM: expect.closeTo(1.2192, 9),
          suctionLengthM: expect.closeTo(4.572, 9),
          dischargeLengthM: expect.closeTo(5.4864, 9),
          insideDiameterM: expect.closeTo(0.040894, 9),
          checkValve: true,
          material: "rubber hose",
          suctionFittings: { elbow: 2, foot_valve: 1 },
        },
        gas: { feed: "drawn in", injected: "suction" },
        supply: {
          circuitA: 15,
          runLengthM: expect.closeTo(0.9144, 9),
          wire: 12,
          overload: 10,
          ozoneLoadA: 0.3,
          otherLoadA: 0.4,
        },
        generator: { flowLpm: 75, pressureKpa: expect.closeTo(96.5, 1) },
        water: { coldestC: 4, warmestC: 27, fallsM: 0.5, risesM: 0.2 },
        elevationM: 120,
        dischargeDepthM: expect.closeTo(1.524, 9),
        columns: {
          time: "datetime",
          channels: {
            motor_current: [{ column: "Amps", unit: "mA" }],
            suction_pressure: [{ column: "Vac", unit: "psi", vacuum: true }],
            gas_pressure: [{ column: "Feed", unit: "mA", range: [4, 20], scale: [0, 40] }],
            flow: [{ column: "Rate" }],
            vibration: [{ column: "Accel X" }, { column: "Accel Y", unit: "m/s2" }],
          },
        },
        baseline: { fromMs: Date.parse("2026-05-01T00:00:00Z"), forMs: 3 * 3_600_000 },
        service: {
          inspectionEveryMs: 14 * 86_400_000,
          cleaningEveryMs: 60 * 86_400_000,
          cleaningRunningMs: 700 * 3_600_000,
          cleaner: {
            name: "X7",
            doseMl: expect.closeTo(44.36, 2),
            strength: "1 part in 10",
            soakMs: 1_200_000,
            rinses: 5,
          },
          parts: ["O-ring 42 mm"],
        },
        limits: { overheating: { delay: "45 s", priority: "medium", latched: true } },
      },
    ]);
  });

  test("gives its services in order of time", () => {
    expect(fleet.services).toEqual([
      { unit: "LM-01", work: "cleaning", step: "done", atMs: Date.parse("2026-05-02T14:00:00Z") },
      { unit: "LM-01", work: "repair", step: "begin", atMs: Date.parse("2026-05-03T11:00:00Z") },
      { unit: "LM-01", work: "planned stop", step: "end", atMs: Date.parse("2026-05-03T12:00:00Z") },
    ]);
  });
});

test("only a unit's id is required", () => {
  const fleet = fleetOf("units: [{ id: LM-01 }]", "/srv/larkmoor/");
  expect(fleet).toMatchObject({
    name: "larkmoor",
    timezone: "UTC",
    display: "si",
    logs: "/srv/larkmoor",
    orderWithinMs: 0,
    sites: [],
    services: [],
  });
  expect(fleet.state).toBeUndefined();
  expect(fleet.units[0]).toEqual({
    id: "LM-01",
    loggerPower: "separate",
    motor: { temperatureAt: "shell" },
    pump: { type: "radial" },
    piping: {},
    gas: { feed: "constant flow", injected: "discharge" },
    supply: {},
    generator: {},
    water: {},
    columns: { channels: {} },
    service: { inspectionEveryMs: 30 * 86_400_000, cleaningEveryMs: 30 * 86_400_000 },
    limits: {},
  });
});

describe("defaults lie under every unit", () => {
  const fleet = fleetOf(`
defaults:
  site: Heron Bend
  motor: { full_load_current: 9.8 A, voltage: 115 V }
  runs: ["05:30-21:00"]
  columns: { vibration: [Accel X, Accel Y], flow: { column: Rate, unit: gpm } }
  limits: { overheating: { delay: 45 s } }
units:
  - id: LM-01
  - id: LM-02
    site:
    motor: { voltage: 230 V }
    runs: always
    columns: { vibration: [Accel Z], flow: { column: Q } }
    limits: { overheating: { priority: low } }
`);
  const [first, second] = fleet.units;

  test("a unit that says nothing takes them all", () => {
    expect(first).toMatchObject({
      site: "Heron Bend",
      motor: { fullLoadCurrentA: 9.8, voltageV: 115 },
      columns: { channels: { vibration: [{ column: "Accel X" }, { column: "Accel Y" }] } },
    });
  });

  test("a unit's own keys win, key by key; a list wins whole; an empty key counts as left out", () => {
    expect(second).toMatchObject({
      site: "Heron Bend",
      motor: { fullLoadCurrentA: 9.8, voltageV: 230 },
      runs: { kind: "always" },
      columns: { channels: { vibration: [{ column: "Accel Z" }], flow: [{ column: "Q", unit: "gpm" }] } },
      limits: { overheating: { delay: "45 s", priority: "low" } },
    });
  });

  test("a default may be half of something that each unit completes", () => {
    const halves = fleetOf(
      "defaults: { baseline: { for: 4 h } }\nunits: [{ id: LM-01, baseline: { from: 2026-05-01T00:00:00Z } }]",
    );
    expect(halves.units[0]?.baseline?.forMs).toBe(4 * 3_600_000);
  });
});

test("names that look like numbers stay as written", () => {
  expect(fleetOf("units: [{ id: 007, serial: 1e5, site: 12 }]").units[0]).toMatchObject({
    id: "007",
    serial: "1e5",
    site: "12",
  });
});

test("an anchor may be written once and used at several units", () => {
  const { units } = fleetOf(
    "units:\n  - id: LM-01\n    motor: &small { voltage: 115 V }\n  - { id: LM-02, motor: *small }",
  );
  expect(units.map((unit) => unit.motor.voltageV)).toEqual([115, 115]);
});

test("a byte-order mark and Windows line ends are no trouble", () => {
  expect(fleetOf("\ufeffunits:\r\n  - id: LM-01\r\n    ozone: none\r\n").units[0]?.ozone).toBe("none");
});

test("a site that only units name is a site too", () => {
  expect(fleetOf("units: [{ id: LM-01, site: Mill Pond }]").sites).toEqual([{ name: "Mill Pond" }]);
});

test.each([
  ["logs", "/srv/larkmoor/logs"],
  ["./logs/", "/srv/larkmoor/logs"],
  ["../archive/logs", "/srv/archive/logs"],
  ["/data/./pond logs", "/data/pond logs"],
  [".", "/srv/larkmoor"],
])("the log folder %s is seen from the fleet file: %s", (logs, absolute) => {
  expect(fleetOf(`logs: ${logs}\nunits: [{ id: LM-01 }]`).logs).toBe(absolute);
});

describe("a rule's settings at a unit", () => {
  test("are the fleet file's over the rule's defaults", () => {
    const unit = unitOf("limits: { overheating: { delay: 45 s, limit: 194 degF } }");
    expect(settingsAt(unit, "overheating", ruleSettings.overheating)).toEqual({
      delay: 45_000,
      off_delay: 60_000,
      priority: "high",
      limit: expect.closeTo(90, 9),
      deadband: 2,
    });
  });

  test("leave aside what all alarms have in common and the rule does not read itself", () => {
    const unit = unitOf("limits: { overheating: { latched: true }, lost-prime: { priority: low } }");
    expect(settingsAt(unit, "overheating", ruleSettings.overheating)).not.toHaveProperty("latched");
    expect(settingsAt(unit, "lost-prime", ruleSettings["lost-prime"])).toEqual({
      delay: 20_000,
      unloaded: 70,
    });
    expect(unit.limits).toEqual({ overheating: { latched: true }, "lost-prime": { priority: "low" } });
  });

  test("may be common ones where an alarm has no settings of its own", () => {
    const limits = { cavitation: { delay: "2 min", off_delay: 60, priority: "low", latched: false } };
    expect(unitOf(`limits: ${JSON.stringify(limits)}`).limits).toEqual(limits);
  });
});

test("a key named __proto__ poisons nothing", () => {
  const result = readFleet(
    'units: [{ id: LM-01, "__proto__": { ozone: none } }]',
    { path: "fleet.yaml", folder: "/srv" },
    ruleSettings,
  );
  expect(result).toHaveProperty("problems");
  expect({}).not.toHaveProperty("ozone");
});
