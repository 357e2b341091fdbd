import { execFile } from "node:child_process";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { fleetFile } from "../support/fleets.ts";
import { environment, folderWith, projectFolder } from "../support/program.ts";

const launcher = join(projectFolder, "dist", "launch.js");

/** Runs the built program, and ends it by force where it does not end by itself. */
async function soon(...args: string[]): Promise<unknown> {
  const options = { env: environment, timeout: 10_000, killSignal: "SIGKILL" as const };
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
