import { createHash } from "node:crypto";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { node22 } from "../support/node22.ts";
import { folderWith, projectFolder, runOther } from "../support/program.ts";

const launcher = join(projectFolder, "dist", "launch.js");
const other = node22();

/** The events of a fleet as a Node writes them, and their hash. */
async function eventsBy(node: string, fleet: string) {
  const { stdout, stderr, status } = await runOther(node, [launcher, "replay", fleet, "--events", "-"]);
  expect({ stderr: stderr.replace(/^[\w-]+: no log.*\n/gm, ""), status }).toMatchObject({ status: 0 });
  return { lines: stdout.split("\n").length - 1, hash: createHash("sha256").update(stdout).digest("hex") };
}

const title =
  other === undefined
    ? "the same logs on Node 22 and on this one are SKIPPED: no Node 22 beside it could be fetched and run"
    : "the same logs on Node 22 and on this one";

describe.skipIf(other === undefined)(title, () => {
  const old = other ?? "";

  it("give the same bytes of events: the sample logs", async () => {
    const fleet = join(projectFolder, "sample-logs", "fleet.yaml");
    const here = await eventsBy(process.execPath, fleet);
    expect(here.lines).toBeGreaterThan(10);
    expect(await eventsBy(old, fleet)).toEqual(here);
  }, 30_000);

  it("and a fleet with all faults, simulated by each to the same bytes", async () => {
    const simulated = async (node: string) => {
      const out = folderWith({});
      const size = ["--units", "4", "--days", "3", "--interval", "30 s", "--seed", "5"];
      const made = await runOther(node, [launcher, "simulate", "--out", out, ...size]);
      expect(made.stdout).toContain("4 units");
      return eventsBy(node, join(out, "fleet.yaml"));
    };
    const here = await simulated(process.execPath);
    expect(here.lines).toBeGreaterThan(20);
    expect(await simulated(old)).toEqual(here);
  }, 60_000);
});
