import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterEach, describe, expect, it } from "vitest";
import type { OpenConsole } from "../../src/collector/open.ts";
import { fleetFile } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith, projectFolder } from "../support/program.ts";
import { hourClean, midnight, readings } from "../support/unit-days.ts";

// The thread's own file is found beside the built one only.
const built = pathToFileURL(join(projectFolder, "dist", "collector", "open.js")).href;
const { openConsole } = (await import(built)) as typeof import("../../src/collector/open.ts");

const endMs = midnight + 3600_000;
let collector: OpenConsole | undefined;
afterEach(() => collector?.close());

/** A collector over one unit with an hour of clean running, in a thread of its own. */
async function opened(): Promise<OpenConsole> {
  const folder = folderWith({ "logs/LM-01.csv": logText(readings([hourClean])) });
  const fleet = { ...fleetOf(fleetFile(["{ id: LM-01 }"]), folder), logs: join(folder, "logs") };
  collector = await openConsole({
    fleet,
    stateFolder: join(folder, "state"),
    clock: { originMs: endMs, wallMs: Date.now(), speed: 1 },
  });
  // The end of its log is seen before it has been read.
  await collector.viewWhere(({ catchingUp }) => catchingUp === undefined);
  return collector;
}

/** A number of points that no chart has: the thread fails over it. */
const impossible = -1;

describe("a collector in a thread of its own", () => {
  it("gives a unit's past", async () => {
    const { history } = await opened();
    const past = await history("LM-01", midnight, endMs, 6);
    expect(past).toMatchObject({ unit: "LM-01", fromMs: midnight, toMs: endMs });
    expect(past.signals.map(({ channel }) => channel)).toContain("motor_current");
  });

  it("says that a unit is unknown, and goes on", async () => {
    const { history } = await opened();
    await expect(history("LM-99", midnight, endMs, 6)).rejects.toThrow("the fleet has no such unit");
    await expect(history("LM-01", midnight, endMs, 6)).resolves.toMatchObject({ unit: "LM-01" });
  });

  it("tells that its thread died, leaves no question open, and closes all the same", async () => {
    const { history, failed, close } = await opened();
    const asked = [history("LM-01", midnight, endMs, impossible), history("LM-01", midnight, endMs, 6)];
    await expect(failed).rejects.toThrow("Invalid typed array length");
    for (const answer of await Promise.allSettled(asked)) {
      expect(answer).toMatchObject({ status: "rejected", reason: { message: "the collector has ended" } });
    }
    await close();
    await close();
    await expect(history("LM-01", midnight, endMs, 6)).rejects.toThrow("no process collects");
  });

  it("answers no question once it was closed, and has not failed by that", async () => {
    const { history, failed, close } = await opened();
    await close();
    await expect(history("LM-01", midnight, endMs, 6)).rejects.toThrow("no process collects");
    expect(await Promise.race([failed.catch(() => "failed"), Promise.resolve("not failed")])).toBe(
      "not failed",
    );
  });
});
