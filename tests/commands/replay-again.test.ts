import { type ChildProcess, spawn } from "node:child_process";
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { fleetFile, primeLostAndFound } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { environment, folderWith, projectFolder, run } from "../support/program.ts";
import { eventsIn } from "../support/status-shape.ts";
import { readings } from "../support/unit-days.ts";

let child: ChildProcess | undefined;
afterEach(() => child?.kill("SIGKILL"));

const yaml = (limits = "") => fleetFile([`{ id: LM-01${limits} }`]);

/** `replay --again-on-change` over a unit that loses its prime from 01:00 to 01:10. */
function started(...options: readonly string[]) {
  const folder = folderWith({ "fleet.yaml": yaml(), "logs/LM-01.csv": logText(readings(primeLostAndFound)) });
  const launcher = join(projectFolder, "dist", "launch.js");
  const program = spawn(
    process.execPath,
    [launcher, "replay", "fleet.yaml", "--again-on-change", ...options],
    {
      cwd: folder,
      env: environment,
    },
  );
  child = program;
  let out = "";
  let err = "";
  program.stdout.on("data", (bytes: Buffer) => {
    out += bytes.toString();
  });
  program.stderr.on("data", (bytes: Buffer) => {
    err += bytes.toString();
  });
  const ended = new Promise<number | null>((resolve) => program.on("close", resolve));
  const shows = (read: () => string, wanted: RegExp) =>
    vi.waitFor(() => expect(read()).toMatch(wanted), { timeout: 30_000, interval: 20 });
  return {
    folder,
    out: () => out,
    outShows: (wanted: RegExp) => shows(() => out, wanted),
    errShows: (wanted: RegExp) => shows(() => err, wanted),
    /** As many editors write: another file, renamed. */
    writeFleet: (text: string) => {
      writeFileSync(join(folder, "other"), text);
      renameSync(join(folder, "other"), join(folder, "fleet.yaml"));
    },
    end: (signal: "SIGINT" | "SIGTERM") => {
      program.kill(signal);
      return ended;
    },
  };
}

describe("replay --again-on-change", () => {
  it("tells what another delay moves, waits out a broken file, tells what comes back, ends with 130", async () => {
    const { outShows, errShows, writeFleet, end } = started();
    await outShows(/^2 events; replays again when fleet\.yaml changes; Ctrl-C ends\n/);
    writeFleet(yaml(", limits: { lost-prime: { delay: 2 min } }"));
    await outShows(/moved {2}2026-05-04T01:02:00\.000Z LM-01 raised lost-prime: 90 s later/);
    await outShows(/2 events: 0 gone, 0 come, 1 moved, 1 as before\n$/);
    writeFleet(yaml(", limits: { lost-prime: { delay: 20 min, dely: 3 } }"));
    await errShows(/fleet\.yaml:4:.* the nearest is delay/);
    writeFleet(yaml(", limits: { lost-prime: { delay: 20 min } }"));
    await outShows(/gone {3}2026-05-04T01:02:00\.000Z LM-01 raised lost-prime[\s\S]*2 gone, 0 come/);
    expect(await end("SIGINT")).toBe(130);
  });

  it("keeps the file of events up to date, by --set as well", async () => {
    const set = "lost-prime.priority=medium";
    const { folder, outShows, writeFleet, end } = started("--events", "events.jsonl", "--set", set);
    await outShows(/2 events/);
    writeFleet(yaml(", limits: { lost-prime: { delay: 2 min } }"));
    await outShows(/1 moved/);
    const events = eventsIn(readFileSync(join(folder, "events.jsonl"), "utf8"));
    expect(events[0]).toMatchObject({ time: "2026-05-04T01:02:00.000Z", priority: "medium" });
    expect(await end("SIGTERM")).toBe(143);
  });

  it("leaves standard output to the events where they go there", async () => {
    const { folder, out, errShows, writeFleet } = started("--events", "-");
    await errShows(/2 events; replays again/);
    expect(out()).toBe((await run(["replay", "fleet.yaml", "--events", "-"], { cwd: folder })).stdout);
    writeFleet(yaml(", limits: { lost-prime: { delay: 2 min } }"));
    await errShows(/1 moved/);
    expect(eventsIn(out())).toHaveLength(4);
  });

  it("begins with a fleet file that can be read, or not at all", async () => {
    const folder = folderWith({ "fleet.yaml": "units: 3\n" });
    expect(await run(["replay", "fleet.yaml", "--again-on-change"], { cwd: folder })).toMatchObject({
      status: 2,
    });
  });
});
