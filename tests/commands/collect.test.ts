import { execFile } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { fleetFile } from "../support/fleets.ts";
import { environment, folderWith, projectFolder } from "../support/program.ts";

const launcher = join(projectFolder, "dist", "launch.js");

/** Nobody, where the tests run as root, whom no mode of a folder binds. */
const nobody = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};

/** Runs the built program, and ends it by force where it does not end by itself. */
async function soon(...args: string[]): Promise<unknown> {
  return soonAs({}, ...args);
}

async function soonAs(
  user: { readonly uid?: number; readonly gid?: number },
  ...args: string[]
): Promise<unknown> {
  const { NODE_COMPILE_CACHE: _, ...env } = environment;
  const options = { ...user, env, timeout: 30_000, killSignal: "SIGKILL" as const };
  return promisify(execFile)(process.execPath, [launcher, ...args], options).catch((error: unknown) => error);
}

// Linux says of a folder below /proc that it is not there, and does not make it.
describe.skipIf(process.platform !== "linux")("a folder where the system makes none", () => {
  const folder = "/proc/tarnwatch/state";

  it("is refused by collect in one line", async () => {
    const fleet = join(folderWith({ "fleet.yaml": fleetFile(["{ id: LM-01 }"]) }), "fleet.yaml");
    expect(await soon("collect", fleet, "--state", folder)).toMatchObject({
      code: 2,
      stdout: "",
      stderr: `${folder}: nothing can be made there; set another folder as \`state\` in the fleet file, or with --state\n`,
    });
  });

  it("is refused by simulate in one line", async () => {
    expect(await soon("simulate", "--out", folder)).toMatchObject({
      code: 2,
      stdout: "",
      stderr: `${folder}: there is no such folder; name a folder that can be written\n`,
    });
  });
});

describe("a state folder that this user can only read", () => {
  it("is refused by collect in one line, and nothing is written in it", async () => {
    const folder = folderWith({ "fleet.yaml": fleetFile(["{ id: LM-01 }"]) });
    const state = join(folder, "state");
    mkdirSync(state);
    chmodSync(folder, 0o755);
    chmodSync(state, 0o555);
    expect(await soonAs(nobody, "collect", join(folder, "fleet.yaml"), "--state", state)).toMatchObject({
      code: 2,
      stdout: "",
      stderr: `${state}: the user that runs tarnwatch cannot write in it; give this user the right to, or set another folder as \`state\` in the fleet file, or with --state\n`,
    });
    expect(readdirSync(state)).toEqual([]);
  });
});
