import { spawn } from "node:child_process";
import { closeSync, existsSync, openSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { fleetFile, primeLost } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { environment, folderWith, projectFolder, run, runOther } from "../support/program.ts";
import { readings } from "../support/unit-days.ts";

const launcher = join(projectFolder, "dist", "launch.js");
const cwd = folderWith({
  "fleet.yaml": fleetFile(["{ id: LM-01 }"]),
  "logs/LM-01.csv": logText(readings(primeLost)),
});
const at = ["--at", "2026-05-04T01:09:50Z"];

describe("started on a Node that is too old", () => {
  it.each(["20.20.2", "18.0.0", "22.21.9"])("%s: says so in one line and exits 2", async (node) => {
    // The launcher is loaded by a Node that claims to be old: what it prints does not hang on the real one.
    const script = `
      Object.defineProperty(process, "versions", { value: { ...process.versions, node: "${node}" } });
      await import(${JSON.stringify(pathToFileURL(launcher).href)});`;
    const ended = await runOther(process.execPath, ["--input-type=module", "-e", script]);
    expect(ended).toEqual({
      status: 2,
      stdout: "",
      stderr:
        `tarnwatch needs Node 22.22 or newer and this is ${node}; ` +
        "in a checkout, start it with `npm run -s tarnwatch -- COMMAND`, which brings its own\n",
    });
  });

  const system = "/usr/bin/node";
  it.skipIf(!existsSync(system))(
    "the system's own, where it is old, says the same (skipped without one)",
    async () => {
      const version = (await runOther(system, ["-p", "process.versions.node"])).stdout.trim();
      const [major, minor] = version.split(".").map(Number);
      const ended = await runOther(system, [launcher, "--version"]);
      if (major > 22 || (major === 22 && minor >= 22)) expect(ended.status).toBe(0);
      else
        expect(ended).toMatchObject({
          status: 2,
          stdout: "",
          stderr: expect.stringContaining(`this is ${version}`),
        });
    },
  );
});

describe("through npm", () => {
  it("takes relative paths from the caller's folder", async () => {
    const npm = ["run", "-s", "--prefix", projectFolder, "tarnwatch", "--"];
    const ended = await runOther("npm", [...npm, "check", "fleet.yaml", ...at], { cwd });
    expect(ended).toMatchObject({ status: 1, stderr: "" });
    expect(ended.stdout).toContain("HIGH  LM-01");
  });

  it("but a path given to the program itself is taken from its own folder, whatever INIT_CWD says", async () => {
    const ended = await run(["check", "fleet.yaml", ...at], { cwd, env: { INIT_CWD: "/" } });
    expect(ended.status).toBe(1);
  });
});

/** Runs the built program with its standard output going to `stdout`. */
async function runInto(stdout: "closed pipe" | number, args: readonly string[]) {
  const child = spawn(process.execPath, [launcher, ...args], {
    cwd,
    env: environment,
    stdio: ["ignore", stdout === "closed pipe" ? "pipe" : stdout, "pipe"],
  });
  child.stdout?.destroy();
  let stderr = "";
  child.stderr?.on("data", (bytes) => {
    stderr += bytes;
  });
  const status = await new Promise<number | null>((resolve) => child.on("close", resolve));
  return { status, stderr };
}

describe("where output cannot be written", () => {
  const commands = [
    { args: ["check", ...at], status: 1 },
    { args: ["check", "--json", ...at], status: 1 },
    { args: ["replay", "fleet.yaml", "--events", "-"], status: 0 },
    { args: ["--help"], status: 0 },
  ];

  it.each(commands)(
    "a reader that leaves early, as head does, is no error: $args",
    async ({ args, status }) => {
      expect(await runInto("closed pipe", args)).toEqual({ status, stderr: "" });
    },
  );

  it.skipIf(!existsSync("/dev/full"))(
    "a full disk is told in one line (skipped without /dev/full)",
    async () => {
      for (const { args } of commands.slice(0, 3)) {
        const full = openSync("/dev/full", "w");
        const ended = await runInto(full, args);
        closeSync(full);
        expect(ended).toEqual({
          status: 2,
          stderr: "standard output: no space is left; free some, or write elsewhere\n",
        });
      }
    },
  );
});
