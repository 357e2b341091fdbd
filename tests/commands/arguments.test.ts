import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { called } from "../support/called.ts";
import { fleetFile, quietDay } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { folderWith, onlyError, projectFolder, run } from "../support/program.ts";
import { readings } from "../support/unit-days.ts";

const version = (JSON.parse(readFileSync(join(projectFolder, "package.json"), "utf8")) as { version: string })
  .version;
const commands = ["watch", "check", "replay", "columns", "site", "simulate", "score", "demo"];
const folder = folderWith({
  "fleet.yaml": fleetFile(["{ id: LM-01 }"]),
  "logs/LM-01.csv": logText(readings(quietDay)),
});

describe("help", () => {
  it("says that nothing is stopped and silence is no proof of safety", async () => {
    const { status, stdout, stderr } = await run(["--help"]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const text = stdout.replace(/\s+/g, " ");
    expect(text).toContain("It stops no pump and no ozone cell");
    expect(text).toContain("Silence is no proof of safety");
    expect(text).toMatch(/never restart a unit from afar/i);
    for (const command of commands) expect(stdout).toMatch(new RegExp(`^  ${command} `, "m"));
  });

  it.each(commands)("of %s, and its version, need no fleet", async (command) => {
    const help = await called([command, "--help"]);
    expect(help).toMatchObject({ status: 0, stderr: "" });
    expect(help.stdout).toContain(`Usage: tarnwatch ${command}`);
    expect(await called([command, "--version"])).toEqual({ status: 0, stdout: `${version}\n`, stderr: "" });
  });

  it("is shown where no command is given, as something that could not be done", async () => {
    expect(await run([])).toMatchObject({ status: 2 });
  });
});

describe("a mistyped word is answered in one line with the nearest that exists", () => {
  it.each([
    [["chek"], /unknown command 'chek'.*check/],
    [["check", "--pirority", "low"], /unknown option '--pirority'.*--priority/],
    [["replay", "fleet.yaml", "--evnts", "-"], /unknown option '--evnts'.*--events/],
    [["replay", "a.yaml", "b.yaml"], /too many arguments/],
    [["check", "a.yaml", "b.yaml"], /too many arguments for 'check'/],
    [["check", "--at"], /'--at <time>' argument missing/],
  ])("%j", async (args, line) => {
    expect(onlyError(await called(args, { cwd: folder }))).toMatch(line);
  });
});

describe("an option's wrong value is answered with what to write", () => {
  const replay = ["replay", "fleet.yaml", "--events", "-"];
  it.each([
    [["check", "--at", "yesterday"], "--at 'yesterday' is not a time; write it like 14:30, or 2026-"],
    [["check", "--at", "2026-05-04"], "--at '2026-05-04' is not a time; write it like 14:30"],
    [["check", "--at", "2026-02-30T01:00:00Z"], "--at '2026-02-30T01:00:00Z' is not a time"],
    [["check", "--priority", "urgent"], "option '--priority <priority>' argument 'urgent' is invalid."],
    [["check", "--priority", "prompt"], "option '--priority <priority>' argument 'prompt' is invalid."],
    [[...replay, "--from", "noon"], "--from 'noon' is not a time; write it like 2026-"],
    [[...replay, "--to", "14:30"], "--to '14:30' is not a time; write it like 2026-05-04 14:30, or"],
    [
      [...replay, "--from", "2026-05-05T00:00:00Z", "--to", "2026-05-04T00:00:00Z"],
      "--from 2026-05-05T00:00:00Z is after --to 2026-05-04T00:00:00Z; write the earlier time first",
    ],
    [[...replay, "--speed", "0"], "option '--speed <n>' argument '0' is invalid."],
    [[...replay, "--set", "delay"], "'delay' is not a setting; write RULE.SETTING=VALUE"],
    [[...replay, "--set", "lost-prim.delay=2s"], "'lost-prim' is not an alarm; the nearest is lost-prime"],
    [[...replay, "--set", "lost-prime.dely=2s"], "lost-prime has no such setting; the nearest is delay"],
    [[...replay, "--set", "lost-prime.delay=2 parsecs"], "unknown unit 'parsecs'; write 10 s"],
    [[...replay, "--services", "none.csv"], "none.csv: there is no such file"],
    [["replay", "fleet.yaml", "--events", "nowhere/events"], "nowhere/events: there is no such folder"],
    [["replay", "fleet.yaml", "--events", "logs"], "logs: it is a folder, not a file"],
    [["replay", "fleet.yaml"], "name a file for the events, or - for standard output: --events -"],
  ])("%j", async (args, line) => {
    expect(onlyError(await called(args, { cwd: folder }))).toContain(line);
  });
});

describe("a services file's problems are told, a line each", () => {
  it("with line, column and what to write", async () => {
    const services = [
      "unit,kind,at",
      "LM-1,cleaning,2026-05-04T00:00:00Z",
      "LM-01,cleening,2026-05-04T00:00:00Z",
      "LM-01,cleaning,4 May",
    ];
    const cwd = folderWith({
      "fleet.yaml": fleetFile(["{ id: LM-01 }"]),
      "logs/LM-01.csv": logText(readings(quietDay)),
      "services.csv": services.join("\n"),
    });
    const args = ["replay", "fleet.yaml", "--events", "-", "--services", "services.csv"];
    const { status, stdout, stderr } = await called(args, { cwd });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr.trimEnd().split("\n")).toEqual([
      "services.csv:2 unit: 'LM-1' is no unit of this fleet; its units are LM-01",
      "services.csv:3 kind: 'cleening' is not a kind of service; write cleaning",
      "services.csv:4 at: '4 May' is not a time with its offset; write 2026-05-01T00:00:00Z",
    ]);
  });
});

describe("watch", () => {
  it("without a terminal points to check", async () => {
    expect(onlyError(await called(["watch", "fleet.yaml"], { cwd: folder }))).toBe(
      "watch draws on a terminal, and there is none; use `check` for one look as text",
    );
  });

  it("tells a broken fleet file before it asks for a terminal", async () => {
    expect(onlyError(await called(["watch", "nope.yaml"], { cwd: folder }))).toBe(
      "nope.yaml: there is no such file",
    );
  });
});
