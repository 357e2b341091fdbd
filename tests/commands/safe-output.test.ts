import { describe, expect, it } from "vitest";
import { called } from "../support/called.ts";
import { quietDay } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { type Ended, folderWith } from "../support/program.ts";
import { readings } from "../support/unit-days.ts";

/**
 * Source of what may move a cursor or colour a screen: ECMA-48, 5th edition (1991): C0, DEL, C1; the
 * bidirectional controls of Unicode Standard Annex 9.
 */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not come out.
const controls = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

const clear = "\u001b[2J";
const title = "\u001b]0;owned\u0007";
const eightBit = "\u009b31m";
const reversed = "\u202eevil\u2066";
const nasty = `${clear}${title}${eightBit}\r${reversed}\u007f`;

function expectSafe({ stdout, stderr }: Ended): void {
  expect(stdout).not.toMatch(controls);
  expect(stderr).not.toMatch(controls);
}

const yaml = (text: string) => JSON.stringify(text);
const log = logText(readings(quietDay));
const badRow = log.replace("\n", `\n${nasty},${nasty},,,,,\n`);

describe("what others write never reaches the terminal raw", () => {
  it("a site's, a fleet's and a file's name, and a log's cells", async () => {
    const fleet = [
      `fleet: ${yaml(`Ponds ${nasty}`)}`,
      "logs: logs",
      "units:",
      `  - { id: LM-01, site: ${yaml(`Bend ${nasty}`)} }`,
      `  - { id: LM-02, site: ${yaml(`Bend ${nasty}`)}, log: ${yaml(`x${clear}.csv`)} }`,
      "  - { id: LM-03, site: Bend }",
    ].join("\n");
    const cwd = folderWith({
      "fleet.yaml": fleet,
      "logs/LM-01.csv": badRow,
      [`logs/x${clear}.csv`]: `wh${title}en,a\n1,2\n`,
    });
    const check = await called(["check", "--at", "2026-05-04T01:10:00Z"], { cwd });
    expect(check.status).toBe(1);
    expect(check.stdout).toContain("CANNOT BE READ  LM-02");
    expectSafe(check);
    const json = await called(["check", "--at", "2026-05-04T01:10:00Z", "--json"], { cwd });
    expectSafe(json);
    expect((JSON.parse(json.stdout) as { fleet: string }).fleet).toBe(`Ponds ${nasty}`);
    const replay = await called(["replay", "fleet.yaml", "--events", "-"], { cwd });
    expect(replay).toMatchObject({ status: 0 });
    expect(replay.stderr).toMatch(/^LM-02: /);
    expectSafe(replay);
  });

  it.each<[string, string]>([
    ["an id", `units:\n  - { id: ${yaml(`LM${nasty}`)} }\n`],
    ["an unknown key", `units:\n  - { id: LM-01, ${yaml(`mo${nasty}`)}: 1 }\n`],
    ["a value", `units:\n  - { id: LM-01, ozone: ${yaml(nasty)} }\n`],
    ["a zone", `timezone: ${yaml(nasty)}\nunits:\n  - { id: LM-01 }\n`],
    ["what is no YAML", `units: [ "${clear}\n`],
    ["bare control bytes", `units:\n  - { id: LM-01${nasty} }\n`],
  ])("%s in a fleet file", async (_name, text) => {
    const ended = await called(["check"], { cwd: folderWith({ "fleet.yaml": text }) });
    expect(ended.status).toBe(2);
    expect(ended.stderr).not.toBe("");
    expectSafe(ended);
  });

  it("a header without a time", async () => {
    const cwd = folderWith({
      "fleet.yaml": "logs: logs\nunits:\n  - { id: LM-01 }\n",
      "logs/LM-01.csv": `${nasty.replace("\r", "")},motor_current_a\n1,2\n`,
    });
    const ended = await called(["check"], { cwd });
    expect(ended.status).toBe(2);
    expectSafe(ended);
  });

  it.each<[string, string[]]>([
    ["the fleet file's path", ["check", `no${nasty}`]],
    ["a command", [`che${nasty}`]],
    ["an option", ["check", `--at${nasty}`]],
    ["a time", ["check", "--at", nasty]],
    ["a priority", ["check", "--priority", nasty]],
    ["a setting", ["replay", "fleet.yaml", "--events", "-", "--set", nasty]],
    ["a setting's value", ["replay", "fleet.yaml", "--events", "-", "--set", `lost-prime.delay=${nasty}`]],
    ["a services file's path", ["replay", "fleet.yaml", "--events", "-", "--services", nasty]],
    ["an events file's path", ["replay", "fleet.yaml", "--events", `none${nasty}/x`]],
  ])("%s on the command line", async (_name, args) => {
    const cwd = folderWith({ "fleet.yaml": "units:\n  - { id: LM-01 }\n", "LM-01.csv": log });
    const ended = await called(args, { cwd });
    expect(ended.status).toBe(2);
    expect(ended.stderr).not.toBe("");
    expectSafe(ended);
  });

  it("a services file's cells", async () => {
    const cwd = folderWith({
      "fleet.yaml": "units:\n  - { id: LM-01 }\n",
      "LM-01.csv": log,
      "s.csv": `unit,kind,at\n${clear},${title},${eightBit}\n`,
    });
    const ended = await called(["replay", "fleet.yaml", "--events", "-", "--services", "s.csv"], { cwd });
    expect(ended.status).toBe(2);
    expectSafe(ended);
  });
});
