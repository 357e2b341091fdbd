import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readFleet } from "../../src/fleet/read.ts";
import { ruleSettings } from "./rules.ts";

function problems(text: string): readonly string[] {
  const result = readFleet(text, { path: "fleet.yaml", folder: "/srv/larkmoor" }, ruleSettings);
  return "problems" in result ? result.problems : [];
}

/** The one problem of a unit with these lines under its id; the first of them is line 3, column 5. */
const inUnit = (lines: string) =>
  problems(`units:\n  - id: LM-01\n    ${lines.replaceAll("\n", "\n    ")}\n`);

describe("a wrong value is told in one line: file, line, column, place, and what to write", () => {
  test.each([
    [
      "motor: { full_load_current: '9,8' }",
      "3:14 units[0].motor.full_load_current: '9,8' is not a quantity; write 9.8 A",
    ],
    [
      "motor:\n  full_load_current: 9,8",
      "4:7 units[0].motor.full_load_current: '9,8' is not a quantity; write 9.8 A",
    ],
    [
      "motor: { full_load_current: 0 A }",
      "3:14 units[0].motor.full_load_current: '0 A' is too small; write more than 0 A",
    ],
    [
      "motor: { insulation_class: C }",
      "3:14 units[0].motor.insulation_class: 'C' is not one of A, B, F, H; write A",
    ],
    [
      "motor: { temperature_at: windings }",
      "3:14 units[0].motor.temperature_at: 'windings' is not one of shell, winding; write winding",
    ],
    ["motor: [9.8 A]", "3:5 units[0].motor: a list is not a mapping; write key: value lines under it"],
    ["pump: radial", "3:5 units[0].pump: 'radial' is not a mapping; write key: value lines under it"],
    [
      "pump: { npsh_required: 3 psi }",
      "3:13 units[0].pump.npsh_required: '3 psi' is not a length; write 1.5 m",
    ],
    [
      "piping: { check_valve: maybe }",
      "3:15 units[0].piping.check_valve: 'maybe' is neither true nor false; write true or false",
    ],
    [
      "piping: { inside_diameter: 1.61 m }",
      "3:15 units[0].piping.inside_diameter: '1.61 m' is too large; write 1 m or less",
    ],
    [
      "gas: { feed: constant }",
      "3:12 units[0].gas.feed: 'constant' is not one of constant flow, regulated, drawn in; write constant flow",
    ],
    [
      "sample_interval: 10 seks",
      "3:5 units[0].sample_interval: '10 seks' has the unknown unit 'seks'; write 10 s",
    ],
    ["sample_interval: 5 m", "3:5 units[0].sample_interval: '5 m' is not a duration; write 5 min"],
    ["sample_interval: 0", "3:5 units[0].sample_interval: '0' is too small; write more than 0 s"],
    ["arrives_every: .inf", "3:5 units[0].arrives_every: 'Infinity' is not a duration; write 10 s"],
    [
      "runs: sometimes",
      "3:5 units[0].runs: 'sometimes' is not always, never or daily windows; write always, or [\"05:30-21:00\"]",
    ],
    [
      'runs: ["05:30-21:00", "9-17"]',
      "3:27 units[0].runs[1]: '9-17' is not a daily window; write 05:30-21:00",
    ],
    [
      'runs: ["06:00-06:00"]',
      "3:12 units[0].runs[0]: '06:00-06:00' is not a daily window; write 05:30-21:00",
    ],
    ["runs: []", "3:5 units[0].runs: the list is empty; write at least one"],
    ["season: 04-31..11-15", "3:5 units[0].season: '04-31..11-15' is not a season; write 04-01..11-15"],
    [
      "consequence: fisch",
      "3:5 units[0].consequence: 'fisch' is not one of fish, irrigation, appearance; write fish",
    ],
    ["ozone: yes", "3:5 units[0].ozone: 'yes' is not one of fitted, bypassed, none"],
    ["elevation: 30000 ft", "3:5 units[0].elevation: '30000 ft' is too large; write 9000 m or less"],
    [
      "baseline: { for: 2 h }",
      "3:5 units[0].baseline.from: nothing is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "baseline: { from: 2026-05-01 08:00:00 }",
      "3:17 units[0].baseline.from: '2026-05-01 08:00:00' is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "baseline: { from: 2026-02-30T00:00:00Z }",
      "3:17 units[0].baseline.from: '2026-02-30T00:00:00Z' is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      "service: { cleaning_every: 0 d }",
      "3:16 units[0].service.cleaning_every: '0 d' is too small; write more than 0 s",
    ],
    [
      "columns: { motor_current: { column: Amps, unit: psi } }",
      "3:47 units[0].columns.motor_current.unit: 'psi' is not a unit of motor_current; write a, amp, amps, ampere, amperes, ma",
    ],
    [
      "columns: { ozone: { column: O3, unit: V } }",
      "3:37 units[0].columns.ozone.unit: 'V' is not a unit of ozone; write no unit",
    ],
    [
      "columns: { motor_current: { column: Amps, vacuum: true } }",
      "3:47 units[0].columns.motor_current.vacuum: only suction_pressure may be a vacuum; leave it out",
    ],
    [
      "columns: { gas_pressure: { column: Feed, unit: mA, range: [4, 20] } }",
      "3:56 units[0].columns.gas_pressure.range: has no scale beside it; write what its ends stand for, such as scale: [0, 400]",
    ],
    [
      "columns: { gas_pressure: { column: Feed, range: [4, 4], scale: [0, 400] } }",
      "3:46 units[0].columns.gas_pressure.range: a list is not two different ends; write [4, 20]",
    ],
    [
      "columns: { gas_pressure: { column: Feed, range: [4, 20], scale: [0, 400 A] } }",
      "3:62 units[0].columns.gas_pressure.scale: '400 A' is not a pressure; write 80 kPa",
    ],
    [
      "columns: { vibration: [Accel X, 3] }",
      "3:37 units[0].columns.vibration[1]: '3' is not a line of text; write the column's header",
    ],
    [
      "columns: { vibration: { unit: g } }",
      "3:16 units[0].columns.vibration.column: nothing is not a line of text; write the column's header",
    ],
    [
      "limits: { overheating: 30 s }",
      "3:15 units[0].limits.overheating: '30 s' is not a mapping; write { delay: 30 s }",
    ],
    [
      "limits: { overheating: { limit: 90 K } }",
      "3:30 units[0].limits.overheating.limit: '90 K' is not a temperature; write 60 degC",
    ],
    [
      "limits: { overheating: { priority: urgent } }",
      "3:30 units[0].limits.overheating.priority: 'urgent' is not one of high, medium, low",
    ],
    [
      "limits: { overheating: { latched: 1 } }",
      "3:30 units[0].limits.overheating.latched: '1' is neither true nor false; write true or false",
    ],
    [
      "limits: { overheating: { limit: 60, deadband: 70 K } }",
      "3:41 units[0].limits.overheating.deadband: the deadband reaches below 0 degC; write a smaller one",
    ],
    [
      "limits: { cavitation: { delay: soon } }",
      "3:29 units[0].limits.cavitation.delay: 'soon' is not a duration; write 10 s",
    ],
    ['serial: "a\\nb"', "3:5 units[0].serial: 'a␊b' is not a line of text; write the skid's serial number"],
    [
      'consequence: "\\e[2J\\u202E"',
      "3:5 units[0].consequence: '␛[2J\\u{202e}' is not one of fish, irrigation, appearance",
    ],
  ])("%s", (lines, line) => {
    expect(inUnit(lines)).toEqual([`fleet.yaml:${line}`]);
  });
});

describe("an unknown key names the nearest known one", () => {
  test.each([
    ["motr: { voltage: 115 V }", "3:5 units[0].motr: this key is not known; the nearest is motor"],
    [
      "motor: { full_load_curent: 9.8 A }",
      "3:14 units[0].motor.full_load_curent: this key is not known; the nearest is full_load_current",
    ],
    [
      "columns: { motor_curent: Amps }",
      "3:16 units[0].columns.motor_curent: this key is not known; the nearest is motor_current",
    ],
    [
      "columns: { flow: { colum: F, column: F } }",
      "3:24 units[0].columns.flow.colum: this key is not known; the nearest is column",
    ],
    [
      "limits: { overheatin: { delay: 3 s } }",
      "3:15 units[0].limits.overheatin: this key is not known; the nearest is overheating",
    ],
    [
      "limits: { overheating: { dely: 3 s } }",
      "3:30 units[0].limits.overheating.dely: overheating has no such setting; the nearest is delay",
    ],
    [
      "limits: { lost-prime: { unloded: 60 % } }",
      "3:29 units[0].limits.lost-prime.unloded: lost-prime has no such setting; the nearest is unloaded",
    ],
    [
      "limits: { cavitation: { limit: 3 } }",
      "3:29 units[0].limits.cavitation.limit: cavitation has no such setting; the nearest is delay",
    ],
    ["__proto__: { motor: 3 }", "3:5 units[0].__proto__: this key is not known; the nearest is motor"],
    ["constructor: 3", "3:5 units[0].constructor: this key is not known; the nearest is consequence"],
    ['"mo\\u0007tor": 3', '3:5 units[0]["mo␇tor"]: this key is not known; the nearest is motor'],
  ])("%s", (lines, line) => {
    expect(inUnit(lines)).toEqual([`fleet.yaml:${line}`]);
  });
});

const unit = "units: [{ id: LM-01 }]";

describe("the file as a whole", () => {
  test.each([
    ["", "1:1 the file is empty; write at least units: with an id"],
    ["# nothing yet\n", "1:1 the file is empty; write at least units: with an id"],
    ["fleet", "1:1 the file is not a mapping; write key: value lines, such as units:"],
    ["- id: LM-01", "1:1 the file is not a mapping; write key: value lines, such as units:"],
    ["fleet: a\nlogs: b\0c", "2:8 a NUL byte stands here; write the file as UTF-8 text"],
    ["a: 1\n".repeat(4_000_000), "1:1 the file holds 20 million characters; write at most 16 million"],
    [`${unit}\nfleet: a\nfleet: b`, "3:1 the key 'fleet' is written twice; write it once"],
    ["units:\n\t- id: LM-01", "2:1 a tab stands where lines are indented; write spaces"],
    [
      "units:\n  - id: LM-01\n   log: a",
      "3:1 this line does not line up with its neighbours; indent it like the lines beside it",
    ],
    [`${unit}\n---\n${unit}`, "2:1 a second document begins; write one document without ---"],
    [
      "units:\n  - { id: LM-01, log: *.csv }",
      "2:23 '*.csv' begins with *, which YAML takes for an alias; write it in quotes",
    ],
    ["units: [{ id: LM-01 }", "1:22 a bracket or quote is not closed; write its end"],
    ["fleet: 'Larkmoor", "1:17 a bracket or quote is not closed; write its end"],
    ["fleet: Larkmoor: ponds", "1:8 a second ': ' stands on this line; write the value in quotes"],
    ["|\u0007", "1:2 this is not YAML: Block scalar header includes extra characters: |␇; write key: value"],
    ["fleet: !js/function x", "1:8 the tag '!js/function' is not known; write the value without it"],
    [
      `a: &a [${"x,".repeat(50)}]\nb: &b [${"*a,".repeat(50)}]\nc: &c [${"*b,".repeat(50)}]\nd: [${"*c,".repeat(50)}]`,
      "1:1 too many aliases; write the values themselves",
    ],
    ["fleet: a", "1:1 units: no unit is written; write a list with an id for each, such as - id: LM-01"],
    ["units: []", "1:1 units: no unit is written; write a list with an id for each, such as - id: LM-01"],
    [
      "units: LM-01",
      "1:1 units: 'LM-01' is not a list; write a line with - for each unit, such as - id: LM-01",
    ],
    ["units: [LM-01]", "1:9 units[0]: 'LM-01' is not a mapping; write key: value lines under it"],
    [
      "units: [{ log: a }]",
      "1:9 units[0].id: nothing is not an id; write letters, digits, '-', '_' and '.', such as LM-01",
    ],
    [
      "units: [{ id: LM 01 }]",
      "1:11 units[0].id: 'LM 01' is not an id; write letters, digits, '-', '_' and '.', such as LM-01",
    ],
    [
      "units: [{ id: .. }]",
      "1:11 units[0].id: '..' is not an id; write letters, digits, '-', '_' and '.', such as LM-01",
    ],
    [
      "units:\n  - id: LM-01\n  - id: LM-02\n  - id: LM-01",
      "4:5 units[2].id: 'LM-01' is the unit on line 2 already; write another id",
    ],
    [
      "units:\n  - id: LM-01\n  - id: lm-01",
      "3:5 units[1].id: 'lm-01' differs from 'LM-01' on line 2 only in capitals; write another id",
    ],
    [
      `timezone: America/Chigaco\n${unit}`,
      "1:1 timezone: 'America/Chigaco' is not a time zone; write its IANA name, such as America/Chicago",
    ],
    [
      `timezone: "+02:00"\n${unit}`,
      "1:1 timezone: '+02:00' is not a time zone; write its IANA name, such as America/Chicago",
    ],
    [`display: metric\n${unit}`, "1:1 display: 'metric' is not one of si, us"],
    [`order_within: -5 s\n${unit}`, "1:1 order_within: '-5 s' is too small; write 0 s or more"],
    [`flet: a\n${unit}`, "1:1 flet: this key is not known; the nearest is fleet"],
    [
      `sites: { Heron Bend: { position: [41.88] } }\n${unit}`,
      '1:24 sites["Heron Bend"].position: a list is not a position; write [latitude, longitude] in degrees, such as [41.88, -93.10]',
    ],
    [
      `sites: { Heron Bend: { working_hours: all day } }\n${unit}`,
      "1:24 sites[\"Heron Bend\"].working_hours: 'all day' is not a stretch of the day; write 07:00-18:00",
    ],
    [
      `${unit}\nservices: cleaning`,
      "2:1 services: 'cleaning' is not a list; write - { unit: LM-01, kind: cleaning, at: 2026-05-01T00:00:00Z }",
    ],
    [
      `${unit}\nservices: [{ unit: LM-10, kind: cleaning, at: 2026-05-01T00:00:00Z }]`,
      "2:14 services[0].unit: 'LM-10' is no unit of this fleet; its units are LM-01",
    ],
    [
      `${unit}\nservices: [{ unit: LM-01, kind: cleanin begin, at: 2026-05-01T00:00:00Z }]`,
      "2:27 services[0].kind: 'cleanin begin' is not a kind of service; write cleaning begin",
    ],
    [
      `${unit}\nservices: [{ unit: LM-01, kind: planned stop, at: 2026-05-01T00:00:00Z }]`,
      "2:27 services[0].kind: 'planned stop' is not a kind of service; write planned stop begin",
    ],
    [
      `${unit}\nservices: [{ unit: LM-01, kind: repair, at: yesterday }]`,
      "2:41 services[0].at: 'yesterday' is not a time with its offset; write 2026-05-01T00:00:00Z",
    ],
    [
      `${unit}\nservices: [{ unit: LM-01, kind: repair, at: 2026-05-01T00:00:00Z, who: me }]`,
      "2:67 services[0].who: this key is not known; the nearest is at",
    ],
  ])("%#", (text, line) => {
    expect(problems(text)).toEqual([`fleet.yaml:${line}`]);
  });

  test("a file nested without end is told, not a crash", () => {
    expect(problems("[".repeat(50_000))).toEqual([
      expect.stringMatching(
        /^fleet.yaml:1:\d+ the file is nested too deeply; write plain lists and mappings$/,
      ),
    ]);
  });
});

test("all problems are told, in the order of the file", () => {
  const text = [
    "units:",
    "  - id: LM-01",
    "    motor: { voltage: high, phase: 1 }",
    "  - id: LM-01",
    "    season: summer",
    "display: metric",
  ].join("\n");
  expect(problems(text)).toEqual([
    "fleet.yaml:3:14 units[0].motor.voltage: 'high' is not a quantity; write 115 V",
    "fleet.yaml:3:29 units[0].motor.phase: this key is not known; the nearest is voltage",
    "fleet.yaml:4:5 units[1].id: 'LM-01' is the unit on line 2 already; write another id",
    "fleet.yaml:5:5 units[1].season: 'summer' is not a season; write 04-01..11-15",
    "fleet.yaml:6:1 display: 'metric' is not one of si, us",
  ]);
});

test("a problem in the defaults is told there, once, and not at each unit", () => {
  const text = "defaults:\n  motor: { voltage: high }\n  id: LM-00\nunits: [{ id: LM-01 }, { id: LM-02 }]";
  expect(problems(text)).toEqual([
    "fleet.yaml:2:12 defaults.motor.voltage: 'high' is not a quantity; write 115 V",
    "fleet.yaml:3:3 defaults.id: this key is not known; the nearest is site",
  ]);
});

test("a wrong default is told even where every unit overrides it", () => {
  const text = "defaults: { elevation: high }\nunits: [{ id: LM-01, elevation: 120 m }]";
  expect(problems(text)).toEqual([
    "fleet.yaml:1:13 defaults.elevation: 'high' is not a quantity; write 1.5 m",
  ]);
});

test("settings that clash only once the defaults are under them are told at the unit", () => {
  const text = [
    "defaults: { limits: { overheating: { limit: 60 degC } } }",
    "units: [{ id: LM-01, limits: { overheating: { deadband: 70 K } } }]",
  ].join("\n");
  expect(problems(text)).toEqual([
    "fleet.yaml:2:47 units[0].limits.overheating.deadband: the deadband reaches below 0 degC; write a smaller one",
  ]);
});

test("the file is named as the user named it, with nothing in its name that could move the cursor", () => {
  const result = readFleet("", { path: "pond\u001b[2J.yaml", folder: "/srv" }, ruleSettings);
  expect(result).toEqual({
    problems: ["pond␛[2J.yaml:1:1 the file is empty; write at least units: with an id"],
  });
});

test("no text makes it throw, and each problem is one printable line that says where", () => {
  const scrap = fc.constantFrom(
    "units:",
    "\n",
    "  ",
    "- ",
    "id: ",
    "LM-01",
    "{",
    "}",
    "[",
    "]",
    ",",
    ": ",
    "&a ",
    "*a",
    "'",
    '"',
    "|",
    "#",
    "!!int ",
    "motor",
    "limits",
    "defaults:",
    "?",
    "<<",
    "__proto__",
    "~",
    "\u0007",
    "\t",
    "---",
  );
  const text = fc.oneof(
    fc.string({ unit: "binary" }),
    fc.array(scrap, { maxLength: 30 }).map((s) => s.join("")),
  );
  fc.assert(
    fc.property(text, (source) => {
      for (const line of problems(source)) {
        expect(line).toMatch(/^fleet\.yaml:[1-9]\d*:[1-9]\d* \S/);
        expect(line).not.toMatch(/[\p{Cc}\p{Zl}\p{Zp}]/u);
      }
    }),
    { numRuns: 500 },
  );
});
