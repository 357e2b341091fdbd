import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { called } from "../support/called.ts";
import { fleetFile, primeLost, quietDay } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { folderWith, onlyError } from "../support/program.ts";
import { readings } from "../support/unit-days.ts";

const good = logText(readings(quietDay));
const at = "2026-05-04T01:10:00Z";
const two = fleetFile(["{ id: LM-01 }", "{ id: LM-02 }"]);

type UnitStatus = { id: string; state: string; problem: string | null; last_reading: string | null };
async function statusOf(files: Record<string, string | Uint8Array>, fleet = two) {
  const cwd = folderWith({ "fleet.yaml": fleet, ...files });
  const ended = await called(["check", "--at", at, "--json"], { cwd });
  expect(ended.stderr).toBe("");
  return {
    ...ended,
    cwd,
    status: ended.status,
    view: JSON.parse(ended.stdout) as { worst: string; units: UnitStatus[] },
  };
}

describe("nothing readable at all ends in 2 with what is wrong and what to do", () => {
  it("where the log folder is missing", async () => {
    const cwd = folderWith({ "fleet.yaml": two });
    const line = onlyError(await called(["check"], { cwd }));
    expect(line).toContain(`${cwd}/logs`);
    expect(line).toMatch(/there is no such log folder; make it, or write its path/);
  });

  it("where a file stands in the log folder's place", async () => {
    const cwd = folderWith({ "fleet.yaml": two, logs: "not a folder" });
    expect(onlyError(await called(["check"], { cwd }))).toContain(`${cwd}/logs`);
  });

  it.each<[string, Record<string, string | Uint8Array>, RegExp]>([
    ["no unit has a log", { "logs/other.csv": good }, /LM-01: no log in .*name it LM-01\.csv/],
    ["its log is empty", { "logs/LM-01.csv": "" }, /LM-01: LM-01\.csv: empty so far/],
    [
      "its log is binary",
      { "logs/LM-01.csv": Uint8Array.from({ length: 4096 }, (_, i) => (i * 37) % 256) },
      /LM-01: LM-01\.csv: /,
    ],
    [
      "its log has a header and no reading",
      { "logs/LM-01.csv": "time,motor_current_a\n" },
      /LM-01: .*no (row|reading)/,
    ],
    ["its header lacks a time", { "logs/LM-01.csv": "motor_current_a\n9.3\n" }, /LM-01: .*no time column/],
    ["its log is a folder", { "logs/LM-01.csv/keep": "" }, /LM-01: /],
    [
      "its compressed log is cut",
      { "logs/LM-01.csv.gz": gzipSync(good).subarray(0, 30) },
      /LM-01: LM-01\.csv\.gz: /,
    ],
  ])("where %s", async (_name, files, line) => {
    const cwd = folderWith({ "fleet.yaml": fleetFile(["{ id: LM-01 }"]), ...files });
    for (const args of [["check"], ["replay", "fleet.yaml", "--events", "-"]]) {
      const { status, stdout, stderr } = await called(args, { cwd });
      expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
      expect(stderr).toMatch(line);
      expect(stderr).not.toMatch(/^\s+at /m);
      expect(stderr).toContain("tarnwatch columns LOG");
    }
  });
});

describe("a unit that cannot be read counts as an alarm while the others go on", () => {
  it.each<[string, Record<string, string | Uint8Array>, RegExp]>([
    ["without a log", {}, /no log in/],
    ["with an empty log", { "logs/LM-02.csv": "" }, /empty so far/],
    ["with a binary log", { "logs/LM-02.csv": new Uint8Array(5000) }, /LM-02\.csv: /],
    ["with a header and no reading", { "logs/LM-02.csv": "time,motor_current_a\n" }, /no (row|reading)/],
    ["with a header without a time", { "logs/LM-02.csv": "when,motor_current_a\n1,9\n" }, /no time column/],
  ])("%s", async (_name, files, why) => {
    const { status, view, cwd } = await statusOf({ "logs/LM-01.csv": good, ...files });
    expect(status).toBe(1);
    expect(view.worst).toBe("medium");
    expect(view.units[0]).toMatchObject({ id: "LM-01", state: "running", problem: null });
    expect(view.units[1]).toMatchObject({ id: "LM-02", state: "no readings", last_reading: null });
    expect(view.units[1].problem).toMatch(why);
    const text = await called(["check", "--at", at], { cwd });
    expect(text.status).toBe(1);
    expect(text.stdout).toMatch(/^CANNOT BE READ {2}LM-02$/m);
  });

  it("as high where its logger shares the pump's outlet: there may be no power", async () => {
    const shared = fleetFile(["{ id: LM-01 }", "{ id: LM-02, logger_power: same outlet }"]);
    expect((await statusOf({ "logs/LM-01.csv": good }, shared)).view.worst).toBe("high");
  });

  it("and replay says so beside the others' events, and exits 0", async () => {
    const cwd = folderWith({ "fleet.yaml": two, "logs/LM-01.csv": logText(readings(primeLost)) });
    const { status, stdout, stderr } = await called(["replay", "fleet.yaml", "--events", "-"], { cwd });
    expect(status).toBe(0);
    expect(stdout).toContain('"alarm":"lost-prime"');
    expect(stderr).toMatch(/^LM-02: no log in /);
  });
});

describe("rows that cannot be read", () => {
  it("are left out and do not stop the rest", async () => {
    const lines = good.split("\n");
    lines.splice(100, 0, "rubbish", "2026-05-04T00:16:21Z,nine,,,,,", "\u0000\u0001\u0002,,,,,,");
    const { status, view } = await statusOf({ "logs/LM-01.csv": lines.join("\n"), "logs/LM-02.csv": good });
    expect(status).toBe(0);
    expect(view.units[0]).toMatchObject({ state: "running", problem: null });
  });
});
