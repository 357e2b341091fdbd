import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterEach, describe, expect, it, vi } from "vitest";
import type { OpenReplay } from "../../src/replay/open.ts";
import { primeLostAndFound } from "../support/fleets.ts";
import { projectFolder } from "../support/program.ts";
import { midnight, readings } from "../support/unit-days.ts";
import { recorded } from "./recorded.ts";

// The thread's own file is found beside the built one only.
const built = pathToFileURL(join(projectFolder, "dist", "replay", "open.js")).href;
const { openReplay } = (await import(built)) as typeof import("../../src/replay/open.ts");

const endMs = midnight + 3600_000;
let replay: OpenReplay | undefined;
afterEach(() => replay?.close());

async function opened(): Promise<OpenReplay> {
  const { start } = await recorded([{ id: "LM-01", batch: readings(primeLostAndFound) }]);
  replay = await openReplay({ ...start, speed: 1 });
  return replay;
}

/** A number of points that no chart has: the thread fails over it. */
const impossible = -1;

describe("a replay in a thread of its own", () => {
  it("goes where it is asked to, and gives what was seen on the way", async () => {
    const { replay: ask, current, history } = await opened();
    ask({ ask: "go to", timeMs: endMs });
    await vi.waitFor(() => expect(current().clockMs).toBe(endMs), { timeout: 30_000, interval: 20 });
    const { signals } = await history("LM-01", midnight, endMs, 6);
    expect(signals.map(({ channel }) => channel)).toContain("motor_current");
    await expect(history("LM-99", midnight, endMs, 6)).rejects.toThrow("the fleet has no such unit");
  });

  it("tells that its thread died, leaves no question open, and closes all the same", async () => {
    const { history, failed, close } = await opened();
    const asked = [history("LM-01", midnight, endMs, impossible), history("LM-01", midnight, endMs, 6)];
    await expect(failed).rejects.toThrow("Invalid typed array length");
    for (const answer of await Promise.allSettled(asked)) {
      expect(answer).toMatchObject({ status: "rejected", reason: { message: "the replay has ended" } });
    }
    await close();
    await expect(history("LM-01", midnight, endMs, 6)).rejects.toThrow("the replay has ended");
  });

  it("answers no question once it was closed", async () => {
    const { history, close } = await opened();
    await close();
    await expect(history("LM-01", midnight, endMs, 6)).rejects.toThrow("the replay has ended");
  });
});
