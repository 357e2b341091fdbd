import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { tellingOrder } from "../../src/assess/causes.ts";
import { called } from "../support/called.ts";
import { dry, fleetFile, ozoneLost, primeLost, primeLostAndFound, stopped } from "../support/fleets.ts";
import { type Dialect, logText } from "../support/log-files.ts";
import { folderWith, run } from "../support/program.ts";
import { eventsIn } from "../support/status-shape.ts";
import { but, clean, hourClean, readings, rowsOf, type Stretch } from "../support/unit-days.ts";

/** Prime lost with overheating behind it, ozone off, a stop with the ozone on: two hours of one unit. */
const eventful: readonly Stretch[] = [
  hourClean,
  { seconds: 300, values: but(dry) },
  { seconds: 600, values: but({ ...dry, motor_temperature: 95 }) },
  { seconds: 600, values: but({ motor_temperature: 95 }) },
  { seconds: 900, values: but({ ozone: 0 }) },
  { seconds: 600, values: { ...stopped, ozone: 1 } },
  { seconds: 610, values: clean },
];
const batch = readings(eventful);
const unit = "{ id: LM-01, runs: always, motor: { full_load_current: 9.8 A } }";
const replay = ["replay", "fleet.yaml", "--events", "-"];

const withLogs = (logs: Record<string, string | Uint8Array>, units = [unit], top = "") =>
  folderWith({
    "fleet.yaml": fleetFile(units, top),
    ...Object.fromEntries(Object.entries(logs).map(([name, text]) => [`logs/${name}`, text])),
  });

const one = withLogs({ "LM-01.csv": logText(batch) });
const whole = (await run(replay, { cwd: one })).stdout;

describe("replay --events", () => {
  it("writes an event a line, of the shape that scripts rely on, seq counting the unit's events", () => {
    const events = eventsIn(whole);
    expect(
      events.map(({ time, event, alarm, by }) => `${time.slice(11, 19)} ${event} ${alarm} ${by ?? ""}`),
    ).toEqual([
      "01:00:30 raised lost-prime ",
      "01:06:00 suppressed overheating lost-prime",
      "01:15:30 cleared lost-prime ",
      "01:15:30 unsuppressed overheating ",
      "01:26:00 cleared overheating ",
      "01:27:00 raised ozone-off ",
      "01:40:30 raised not-running ",
      "01:40:30 cleared ozone-off ",
      "01:41:00 raised ozone-while-stopped ",
      "01:50:30 cleared ozone-while-stopped ",
      "02:00:00 cleared not-running ",
    ]);
    expect(events.map(({ seq }) => seq)).toEqual(events.map((_, i) => i + 1));
  });

  it("has its keys in the documented order", () => {
    expect(Object.keys(JSON.parse(whole.split("\n")[0]))).toEqual([
      "time",
      "unit",
      "seq",
      "alarm",
      "event",
      "priority",
      "since",
      "message",
      "evidence",
    ]);
  });

  it("writes to a file what it writes to standard output, and nothing else anywhere", async () => {
    const args = ["replay", "fleet.yaml", "--events", "events.jsonl"];
    expect(await run(args, { cwd: one })).toEqual({ status: 0, stdout: "", stderr: "" });
    expect(readFileSync(join(one, "events.jsonl"), "utf8")).toBe(whole);
  });

  it("exits 0 whatever was raised, and where nothing was", async () => {
    const quiet = withLogs({ "LM-01.csv": logText(readings([hourClean])) });
    expect(await called(replay, { cwd: quiet })).toEqual({ status: 0, stdout: "", stderr: "" });
  });

  it("orders events by time, then units as in the fleet file, then causes before consequences", async () => {
    const logs = { "B.csv": logText(batch), "A.csv": logText(batch), "C.csv": logText(readings(ozoneLost)) };
    const ids = ["B", "A", "C"];
    const cwd = withLogs(
      logs,
      ids.map((id) => unit.replace("LM-01", id)),
    );
    const events = eventsIn((await called(replay, { cwd })).stdout);
    expect(events.length).toBeGreaterThan(20);
    const key = events.map(({ time, unit: id, alarm }) => [
      Date.parse(time),
      ids.indexOf(id),
      tellingOrder[alarm],
    ]);
    expect(key).toEqual(key.toSorted((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2]));
    for (const id of ids) {
      const seqs = events.filter((event) => event.unit === id).map(({ seq }) => seq);
      expect(seqs).toEqual(seqs.map((_, i) => i + 1));
    }
  });
});

describe("replay's window", () => {
  it("--from limits what is written, not what is read: the alarms, their numbers and seq are the same", async () => {
    const { stdout } = await called([...replay, "--from", "2026-05-04T01:15:30Z"], { cwd: one });
    expect(stdout).toBe(whole.split("\n").slice(2).join("\n"));
  });

  it("--to ends the reading: what would be raised later is not there", async () => {
    const { stdout } = await called([...replay, "--to", "2026-05-04T01:06:00Z"], { cwd: one });
    expect(stdout).toBe(`${whole.split("\n").slice(0, 2).join("\n")}\n`);
    const shorter = await called([...replay, "--to", "2026-05-04T01:05:59.999Z"], { cwd: one });
    expect(shorter.stdout).toBe(`${whole.split("\n")[0]}\n`);
  });

  it("--to before the first reading leaves nothing to read, and says so", async () => {
    const ended = await called([...replay, "--to", "2020-01-01T00:00:00Z"], { cwd: one });
    expect(ended).toMatchObject({ status: 2, stdout: "" });
    expect(ended.stderr).toContain("LM-01: no reading in its log up to 2020-01-01T00:00:00.000Z");
  });

  it("takes times with any offset", async () => {
    const utc = await called([...replay, "--from", "2026-05-04T01:15:30Z"], { cwd: one });
    const local = await called([...replay, "--from", "2026-05-03T20:15:30-05:00"], { cwd: one });
    expect(local.stdout).toBe(utc.stdout);
  });

  it("leaves an alarm that is active at the end raised", async () => {
    const cwd = withLogs({ "LM-01.csv": logText(readings(primeLost)) });
    const events = eventsIn((await called(replay, { cwd })).stdout);
    expect(events.map(({ event, alarm }) => `${event} ${alarm}`)).toEqual(["raised lost-prime"]);
  });
});

describe("replay --set", () => {
  it("moves an alarm by its delay: lost-prime.delay=2min raises it 2 min after it began", async () => {
    const cwd = withLogs({ "LM-01.csv": logText(readings(primeLostAndFound)) });
    const usual = eventsIn((await called(replay, { cwd })).stdout);
    const later = eventsIn((await called([...replay, "--set", "lost-prime.delay=2min"], { cwd })).stdout);
    expect(usual[0]).toMatchObject({ time: "2026-05-04T01:00:30.000Z", since: "2026-05-04T01:00:00.000Z" });
    expect(later[0]).toMatchObject({ time: "2026-05-04T01:02:00.000Z", since: "2026-05-04T01:00:00.000Z" });
    expect(later.slice(1)).toEqual(usual.slice(1));
  });

  it("may be given again, the last word counting, and goes over the fleet file's limits", async () => {
    const limited = "{ id: LM-01, limits: { lost-prime: { delay: 5 min, priority: medium } } }";
    const cwd = withLogs({ "LM-01.csv": logText(readings(primeLostAndFound)) }, [limited]);
    const set = (...values: string[]) => [...replay, ...values.flatMap((value) => ["--set", value])];
    const events = eventsIn(
      (await called(set("lost-prime.delay=4min", "lost-prime.delay=1min"), { cwd })).stdout,
    );
    expect(events[0]).toMatchObject({ time: "2026-05-04T01:01:00.000Z", priority: "medium" });
  });
});

describe("replay --services", () => {
  it("plays a CSV file's services in place of the fleet file's", async () => {
    const top = "services: [{ unit: LM-01, kind: repair begin, at: 2026-05-04T00:30:00Z }]\n";
    const cwd = withLogs({ "LM-01.csv": logText(readings(primeLostAndFound)) }, [unit], top);
    const own = eventsIn((await called(replay, { cwd })).stdout);
    expect(own[0]).toMatchObject({ event: "suppressed", alarm: "lost-prime", by: "service" });
    const services = folderWith({
      "s.csv":
        "unit,kind,at\nLM-01,cleaning begin,2026-05-04T01:05:00Z\nLM-01,cleaning end,2026-05-04T01:06:00Z\n",
    });
    const other = await called([...replay, "--services", join(services, "s.csv")], { cwd });
    expect(
      eventsIn(other.stdout).map(({ time, event, by }) => `${time.slice(11, 19)} ${event} ${by ?? ""}`),
    ).toEqual([
      "01:00:30 raised ",
      "01:05:00 suppressed service",
      "01:06:00 unsuppressed ",
      "01:10:30 cleared ",
    ]);
  });
});

describe("the same readings give the same bytes", () => {
  it("twice", async () => {
    expect((await run(replay, { cwd: one })).stdout).toBe(whole);
  });

  it("split into rotated and compressed files", async () => {
    const parts = [0, 150, 151, 420, 700, batch.rows];
    const part = (k: number) => logText(rowsOf(batch, parts[k], parts[k + 1]));
    const cwd = withLogs({
      "LM-01.csv.3.gz": gzipSync(part(0)),
      "LM-01.csv.2": part(1),
      "LM-01.csv.1": part(2),
      "LM-01-0400.csv.gz": gzipSync(part(3)),
      "LM-01/today.csv": part(4),
    });
    expect((await called(replay, { cwd })).stdout).toBe(whole);
  });

  it.each<[string, Partial<Dialect>]>([
    [
      "with semicolons, decimal commas, CRLF and a byte-order mark",
      { delimiter: ";", decimalComma: true, lineEnd: "\r\n", byteOrderMark: true },
    ],
    [
      "with tabs, headers in capitals and Unix seconds",
      { delimiter: "\t", upperCase: true, time: "Unix seconds" },
    ],
  ])("written %s", async (_name, dialect) => {
    const cwd = withLogs({ "LM-01.csv": logText(batch, dialect) });
    expect((await called(replay, { cwd })).stdout).toBe(whole);
  });

  it("beside other units", async () => {
    const cwd = withLogs({ "LM-01.csv": logText(batch), "LM-00.csv": logText(readings([hourClean])) }, [
      "{ id: LM-00 }",
      unit,
    ]);
    const lines = (await called(replay, { cwd })).stdout.split("\n");
    expect(lines.filter((line) => !line.includes('"LM-00"')).join("\n")).toBe(whole);
  });

  it("where the machine's own zone and language are others", async () => {
    const env = { TZ: "Asia/Kolkata", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8" };
    expect((await run(replay, { cwd: one, env })).stdout).toBe(whole);
  });
});
