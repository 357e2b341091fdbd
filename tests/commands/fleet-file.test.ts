import { describe, expect, it } from "vitest";
import { called } from "../support/called.ts";
import { fleetFile, quietDay } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { folderWith, onlyError } from "../support/program.ts";
import { readings } from "../support/unit-days.ts";

const log = logText(readings(quietDay));

describe("a fleet file that cannot be used", () => {
  it("is missed where the command is given in another folder, and says what to do", async () => {
    expect(onlyError(await called(["check"], { cwd: folderWith({}) }))).toBe(
      "fleet.yaml: there is no such file; name a fleet file, or `npm start` shows the demonstration",
    );
  });

  it("is named where the user named it", async () => {
    expect(onlyError(await called(["check", "ponds/north.yaml"], { cwd: folderWith({}) }))).toBe(
      "ponds/north.yaml: there is no such file",
    );
  });

  it("may be a folder, which leads to the fleet file in it, or to init", async () => {
    const cwd = folderWith({ "logs/LM-01.csv": log, "fleet/fleet.yaml": "units: [{ id: LM-01 }]" });
    expect(onlyError(await called(["check", "logs"], { cwd }))).toBe(
      "logs: it is a folder, not a file; if it holds logs: tarnwatch init logs writes a fleet file for them",
    );
    expect(onlyError(await called(["check", "fleet"], { cwd }))).toBe(
      "fleet: it is a folder, not a file; name fleet/fleet.yaml",
    );
  });

  it("may lie under a file, and is told so in one line", async () => {
    const cwd = folderWith({ "logs/LM-01.csv": log });
    expect(onlyError(await called(["check", "logs/LM-01.csv/fleet.yaml"], { cwd }))).toMatch(
      /^logs\/LM-01\.csv\/fleet\.yaml: /,
    );
  });

  it.skipIf(process.getuid?.() === 0)(
    "may not be readable (skipped for root, whom permissions do not bind)",
    async () => {
      const cwd = folderWith({ "fleet.yaml": fleetFile(["{ id: LM-01 }"]) });
      const { chmodSync } = await import("node:fs");
      chmodSync(`${cwd}/fleet.yaml`, 0);
      expect(onlyError(await called(["check"], { cwd }))).toMatch(/^fleet\.yaml: no permission to read it/);
    },
  );

  it("may list a unit twice", async () => {
    const cwd = folderWith({ "fleet.yaml": fleetFile(["{ id: LM-01 }", "{ id: LM-01 }"]) });
    expect(onlyError(await called(["check"], { cwd }))).toMatch(/^fleet\.yaml:5:\d+ units\[1\]\.id: .*LM-01/);
  });

  it("has all its problems told at once, each with its place, in the order of the file", async () => {
    const yaml = [
      "timezone: Chicago",
      "units:",
      "  - id: LM-01",
      "    motr: {}",
      "    motor: { full_load_current: '9,8' }",
      "  - id: LM 02",
      "    runs: sometimes",
      "",
    ].join("\n");
    const { status, stdout, stderr } = await called(["check"], { cwd: folderWith({ "fleet.yaml": yaml }) });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    const lines = stderr.trimEnd().split("\n");
    expect(lines).toHaveLength(5);
    expect(lines[0]).toMatch(
      /^fleet\.yaml:1:\d+ timezone: 'Chicago' is not a time zone; write .*America\/Chicago/,
    );
    expect(lines[1]).toMatch(/^fleet\.yaml:4:\d+ units\[0\]\.motr: .*the nearest is motor/);
    expect(lines[2]).toMatch(
      /^fleet\.yaml:5:\d+ units\[0\]\.motor\.full_load_current: '9,8' is not a quantity; write 9\.8 A$/,
    );
    expect(lines[3]).toMatch(/^fleet\.yaml:6:\d+ units\[1\]\.id: 'LM 02' is not an id; write /);
    expect(lines[4]).toMatch(/^fleet\.yaml:7:\d+ units\[1\]\.runs: /);
  });

  it("that is no YAML says where it breaks", async () => {
    const cwd = folderWith({ "fleet.yaml": "units:\n  - { id: LM-01\n" });
    const { status, stderr } = await called(["check"], { cwd });
    expect(status).toBe(2);
    for (const line of stderr.trimEnd().split("\n")) expect(line).toMatch(/^fleet\.yaml:\d+:\d+ /);
  });

  it("is checked whatever the command", async () => {
    const cwd = folderWith({ "fleet.yaml": "unit: []\n" });
    for (const args of [["check"], ["replay", "fleet.yaml", "--events", "-"], ["watch"]]) {
      const { status, stderr } = await called(args, { cwd });
      expect(status).toBe(2);
      expect(stderr).toMatch(/^fleet\.yaml:1:1 unit: .*the nearest is units$/m);
    }
  });
});
