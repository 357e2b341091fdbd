import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { score as scoreInside } from "../../src/commands/score.ts";
import { called } from "../support/called.ts";
import { fleetFile, ozoneLost, primeLostAndFound } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { folderWith, onlyError, run } from "../support/program.ts";
import { clean, readings } from "../support/unit-days.ts";

/** LM-01 loses prime from 01:00 to 01:10, and a row says so; LM-02's ozone is off meanwhile. */
const labelled = logText(readings(primeLostAndFound))
  .trimEnd()
  .split("\n")
  .map((line, i) => (i === 0 ? `${line},dry` : `${line},${i > 360 && i <= 420 ? 1 : 0}`));
const header = "unit,alarm,start,end\n";
const dry = "LM-01,lost-prime,2026-05-04T01:00:00Z,2026-05-04T01:10:00Z\n";
const off = "LM-02,ozone-off,2026-05-04T01:00:00Z,2026-05-04T01:10:00Z\n";
const missed = "LM-02,overheating,2026-05-04T00:00:00Z,2026-05-04T00:10:00Z\n";

const cwd = folderWith({
  "fleet.yaml": fleetFile(["{ id: LM-01 }", "{ id: LM-02 }"]),
  "one.yaml": fleetFile(["{ id: LM-01 }"]),
  "logs/LM-01.csv": `${labelled.join("\n")}\n`,
  "logs/LM-02.csv": logText(readings([...ozoneLost, { seconds: 600, values: clean }])),
  "truth.csv": header + dry + off,
  "spanned.csv": `# units 2\n# from 2026-05-04T00:00:00Z\n# to 2026-05-05T00:00:00Z\n${header}${dry}`,
  "missed.csv": header + dry + off + missed,
  "stranger.csv": header + dry.replace("LM-01", "LM-10"),
  "empty.csv": header,
  "not-json.jsonl": "unit,alarm\n",
});
const replay = (name: string, ...more: string[]) =>
  called(["replay", "fleet.yaml", "--events", name, ...more], { cwd });
await replay("events.jsonl");
await replay("late.jsonl", "--set", "lost-prime.delay=5min");
await replay("deaf.jsonl", "--set", "lost-prime.delay=30min");

const score = (...args: string[]) => called(["score", ...args], { cwd });
const held = ["--events", "events.jsonl", "--truth"];

describe("score", () => {
  it("exits 0 where every fault was caught and no alarm was false", async () => {
    const { status, stdout, stderr } = await score(...held, "truth.csv");
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    expect(stdout).toContain("2 faults; unit-days not known: add --fleet FLEET");
    expect(stdout).toMatch(/^lost-prime +1 +1 +0 +30 s +30 s +0 +– +0$/m);
    expect(stdout).toMatch(/^all +2 +2 +0 /m);
    expect(stdout).toContain("it names the fault in 1.000 (0.342 to 1.000)");
  });

  it("exits 1 where a fault was missed, and where an alarm was false", async () => {
    const gone = await score(...held, "missed.csv");
    expect(gone.status).toBe(1);
    expect(gone.stdout).toMatch(/\nmissed\n {2}LM-02 {2}overheating {2}2026-05-04T00:00:00\.000Z to /);
    const wrong = await score(...held, "spanned.csv");
    expect(wrong.status).toBe(1);
    expect(wrong.stdout).toMatch(/\nfalse alarms\n {2}LM-02 {2}ozone-off {2}2026-05-04T01:\d\d/);
  });

  it("may ask for less: so much recall, so many false alarms a unit-day", async () => {
    expect((await score(...held, "missed.csv", "--least-recall", "0.6")).status).toBe(0);
    expect((await score(...held, "missed.csv", "--least-recall", "0.7")).status).toBe(1);
    expect((await score(...held, "spanned.csv", "--most-false", "0.5")).status).toBe(0);
    expect((await score(...held, "spanned.csv", "--most-false", "0.4")).status).toBe(1);
  });

  it("as JSON tells every alarm, rates over the unit-days that the truth states, else over the logs", async () => {
    const { stdout } = await score(...held, "spanned.csv", "--json");
    const told = JSON.parse(stdout);
    expect(told).toMatchObject({
      unit_days: 2,
      all: { faults: 1, caught: 1, false: 1, false_per_unit_day: 0.5, recall: { value: 1 } },
      first_alarms: [{ fault: "lost-prime", faults: 1, first: { "lost-prime": 1 } }],
      missed: [],
      false_alarms: [{ unit: "LM-02", alarm: "ozone-off", priority: "medium" }],
    });
    expect([...told.alarms, ...told.clock_alarms]).toHaveLength(27);
    const byLogs = JSON.parse((await score(...held, "truth.csv", "--fleet", "fleet.yaml", "--json")).stdout);
    // From the first to the last reading, 10 s apart, of 80 min at each of the two units.
    expect(byLogs.unit_days).toBeCloseTo((2 * (80 - 1 / 6)) / 1440, 4);
  });

  it("reads the events from standard input", async () => {
    const { stdout: events } = await replay("-");
    const piped = await run(["score", "--events", "-", "--truth", "truth.csv"], { cwd, input: events });
    expect(piped).toEqual(await score(...held, "truth.csv"));
  });

  it("reads the truth from standard input", async () => {
    const input = header + dry + off;
    const piped = await run(["score", "--events", "events.jsonl", "--truth", "-"], { cwd, input });
    expect(piped).toEqual(await score(...held, "truth.csv"));
  });
});

describe("score --compare", () => {
  it("exits 0 for two runs that raised the same within ten minutes, else 1 and tells what differs", async () => {
    const same = await score("--compare", "events.jsonl", "late.jsonl");
    expect(same).toMatchObject({ status: 0, stderr: "" });
    const other = await score("--compare", "events.jsonl", "deaf.jsonl", "--truth", "truth.csv");
    expect(other.status).toBe(1);
    expect(other.stdout).toMatch(/^lost-prime +1 +0 +1 +0$/m);
    expect(other.stdout).toMatch(/^all +1\.000 +0\.500 +-0\.500 /m);
    expect(other.stdout).toMatch(/\nonly in A\n {2}LM-01 {2}lost-prime {2}2026-05-04T01:00:30\.000Z {2}high/);
  });

  it("as JSON carries both scores where there is a truth", async () => {
    const { stdout } = await score(
      "--compare",
      "events.jsonl",
      "deaf.jsonl",
      "--truth",
      "truth.csv",
      "--json",
    );
    expect(JSON.parse(stdout)).toMatchObject({
      alarms: [
        { alarm: "lost-prime", a: 1, b: 0, only_a: [{ unit: "LM-01" }], only_b: [] },
        { alarm: "ozone-off", a: 1, b: 1, only_a: [], only_b: [] },
      ],
      scores: { a: { all: { caught: 2 } }, b: { all: { caught: 1, missed: 1 } } },
    });
  });
});

describe("score --label", () => {
  const byRows = ["--events", "lm-01.jsonl", "--fleet", "one.yaml", "--label", "dry"];

  it("counts rows by whether an alarm was active: here from 30 s after the fault to 30 s after its end", async () => {
    await called(["replay", "one.yaml", "--events", "lm-01.jsonl"], { cwd });
    const { status, stdout, stderr } = await score(...byRows, "--skip-rows", "300", "--json");
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const rows = { true_positive: 57, false_positive: 3, false_negative: 3, true_negative: 117 };
    expect(JSON.parse(stdout)).toMatchObject({
      label: "dry",
      skip_rows: 300,
      all: { ...rows, f1: 0.95, false_alarm_rate: 0.025, missed_alarm_rate: 0.05 },
      units: [{ unit: "LM-01", ...rows }],
    });
    const text = (await score(...byRows)).stdout;
    expect(text).toMatch(/^LM-01 +480 +60 +0\.950 +0\.7 % +5\.0 %$/m);
  });

  it("names the nearest column, and a fleet file whose replay it is not", async () => {
    expect(onlyError(await score(...byRows.slice(0, 4), "--label", "dri"))).toBe(
      `${join(cwd, "logs", "LM-01.csv")}: it has no column 'dri'; the nearest is 'dry'`,
    );
    expect(onlyError(await score("--events", "events.jsonl", ...byRows.slice(2)))).toBe(
      "events.jsonl: unit 'LM-02' is not in the fleet file; name as --fleet the one that was replayed",
    );
    expect(onlyError(await score(...byRows.slice(0, 4), "--label", "motor_current_a"))).toMatch(
      /^LM-01: the label 'motor_current_a' is 9\.\d+ at 2026-05-04T00:00:00\.000Z; write 0 or 1$/,
    );
  });
});

describe("score answers what it cannot do in one line with what to write", () => {
  const at = (name: string) => join(cwd, name);
  const events = at("events.jsonl");
  it.each([
    [{}, /^score: write --events FILE --truth FILE; or --events FILE --fleet FLEET --label COLUMN; or/],
    [{ events }, /^score: write --events FILE --truth FILE; or/],
    [{ events, truth: at("truth.csv"), label: "dry" }, /^score: write --events FILE --truth FILE; or/],
    [{ events, truth: at("none.csv") }, /none\.csv: there is no such file$/],
    [{ events: at("none.jsonl"), truth: at("truth.csv") }, /none\.jsonl: there is no such file$/],
    [{ events: at("not-json.jsonl"), truth: at("truth.csv") }, /not-json\.jsonl:1 it is not JSON; write the/],
    [{ events, truth: at("empty.csv") }, /empty\.csv: it has no fault; write a row a fault/],
    [
      { events, truth: at("stranger.csv"), fleet: at("fleet.yaml") },
      /stranger\.csv:2 unit: 'LM-10' is no unit of this fleet; the nearest is LM-0[12]$/,
    ],
    [{ events, truth: at("truth.csv"), fleet: at("one.yaml") }, /truth\.csv:3 unit: 'LM-02' is no unit/],
    [{ events, truth: at("truth.csv"), mostFalse: 1 }, /the unit-days are not known; add --fleet FLEET/],
    [{ compare: [events] }, /^--compare takes two files of events; write --compare A B$/],
    [{ compare: [events, events, events] }, /^--compare takes two files of events/],
    [{ compare: ["-", "-"] }, /^only one file can be -, standard input; write the others' names$/],
    [{ compare: [events, "-"], truth: "-" }, /^only one file can be -/],
    [{ events: "-", truth: "-" }, /^only one file can be -/],
    [
      { compare: [events, events], events },
      /^--events means nothing beside --compare; leave one of them out$/,
    ],
    [{ compare: [events, events], label: "dry" }, /^--label means nothing beside --compare/],
    [{ compare: [events, events], skipRows: 1 }, /^--skip-rows means nothing beside --compare/],
    [{ compare: [events, events], mostFalse: 1 }, /^--most-false means nothing beside --compare/],
    [
      { compare: [events, events], fleet: at("one.yaml") },
      /^.*events\.jsonl: unit 'LM-02' is not in the fleet file/,
    ],
    [{ events, truth: at("truth.csv"), skipRows: 1 }, /^--skip-rows means nothing beside --truth/],
    [
      { events, label: "dry", fleet: at("one.yaml"), leastRecall: 1 },
      /^--least-recall means nothing beside --label/,
    ],
    [{ events, label: "dry" }, /write --fleet FLEET with it$/],
  ])("%j", async (options, line) => {
    await expect(scoreInside(options)).rejects.toThrow(line);
  });

  it.each([
    [["--least-recall", "90"], "argument '90' is invalid. write a share from 0 to 1"],
    [["--skip-rows", "1.5"], "argument '1.5' is invalid. write a whole number"],
    [["--most-false", "-1"], "argument '-1' is invalid. write a number, 0 or more"],
  ])("%j", async (args, line) => {
    expect(onlyError(await score(...args))).toContain(line);
  });
});
