import { spawn } from "node:child_process";
import { closeSync, existsSync, openSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it, vi } from "vitest";
import { commandName } from "../../src/commands/context.ts";
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

describe("as a command, by a link to the checkout's bin/tarnwatch", () => {
  it("takes relative paths from the folder that it is called in, with the checkout's own Node", async () => {
    const link = join(folderWith({}), "tarnwatch");
    symlinkSync(join(projectFolder, "bin/tarnwatch"), link);
    const ended = await runOther(link, ["check", "fleet.yaml", ...at], { cwd });
    expect(ended).toMatchObject({ status: 1, stderr: "" });
    expect(ended.stdout).toContain("HIGH  LM-01");
  });
});

describe("a line to be typed next", () => {
  it.each([
    ["the command itself", undefined, "/ponds", "tarnwatch"],
    ["another script", "test", process.cwd(), "tarnwatch"],
    ["npm in the checkout", "tarnwatch", process.cwd(), "npm run -s tarnwatch --"],
    ["npm in a folder of it", "start", join(process.cwd(), "sample-logs"), "npm run -s tarnwatch --"],
    ["npm from elsewhere", "tarnwatch", "/ponds", `npm --prefix ${process.cwd()} run -s tarnwatch --`],
  ])("calls the program as %s did", (_, script, caller, name) => {
    vi.stubEnv("npm_lifecycle_event", script);
    vi.stubEnv("INIT_CWD", caller);
    expect(commandName()).toBe(name);
    vi.unstubAllEnvs();
  });
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
