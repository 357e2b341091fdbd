import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, it, vi } from "vitest";
import { attach } from "../../src/collector/attach.ts";
import { wallClock } from "../../src/collector/clock.ts";
import { type Serving, serve } from "../../src/collector/serve.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { tryLock } from "../../src/store/lock.ts";
import { keptFleet } from "../dashboard/people.ts";
import { fleetFile } from "../support/fleets.ts";
import { fleetOf } from "../support/played.ts";
import { folderWith, projectFolder } from "../support/program.ts";

// The thread's own file is found beside the built one only.
const built = pathToFileURL(join(projectFolder, "dist", "collector", "unattended.js")).href;
const { openUnattended } = (await import(built)) as typeof import("../../src/collector/unattended.ts");

it("an unattended collector asks each console that collects to let go, also one that was quicker to take over", async () => {
  const folder = folderWith({ "logs/LM-01.csv": "time,motor_current_a\n" });
  const fleet = { ...fleetOf(fleetFile(["{ id: LM-01 }"]), folder), logs: join(folder, "logs") };
  const state = await openStateFolder(join(folder, "state"));
  if (state.problem !== undefined) throw new Error(state.problem);
  const lock = tryLock(state.value).value;
  const asked: number[] = [];
  let serving: Serving | undefined;
  /** Consoles that collect one after another, each as soon as the one before has let go. */
  const collect = async ([pid, ...next]: readonly number[]): Promise<void> => {
    await serving?.close();
    if (pid === undefined) {
      lock?.release();
      return;
    }
    const view = keptFleet({ collector: { pid, host: "here", sinceMs: 0, kind: "watch" } });
    serving = await serve(
      state.value.path,
      0o600,
      () => view,
      () => (message) => {
        if (message.kind !== "hand-over") return;
        asked.push(pid);
        void collect(next);
      },
    );
  };
  await collect([1, 2]);
  const keep = { folder: state.value.path, kind: "collect" } as const;
  const start = { fleet, stateFolder: state.value.path, clock: wallClock, keep };
  const opened = await openUnattended(start, () => {});
  expect(asked).toEqual([1, 2]);
  if ("thread" in opened) await opened.thread.close();
  expect(opened).toHaveProperty("thread");
}, 30_000);

it("goes on with another fleet file: a console that is attached is sent each of its views, also of more units than fill a screen", async () => {
  const ids = Array.from({ length: 103 }, (_, n) => `LM-${n + 1}`);
  const folder = folderWith({ "logs/LM-1.csv": "time,motor_current_a\n" });
  const path = join(folder, "state");
  const fleet = (many: number) => ({
    ...fleetOf(fleetFile(ids.slice(0, many).map((id) => `{ id: ${id} }`)), folder),
    logs: join(folder, "logs"),
  });
  const keep = { folder: path, kind: "collect" } as const;
  const start = { fleet: fleet(103), stateFolder: path, clock: wallClock, keep };
  const opened = await openUnattended(start, () => {});
  if (!("thread" in opened)) throw new Error(opened.taken);
  const { thread } = opened;
  const attached = await vi.waitFor(async () => {
    const found = await attach(path);
    if (found === undefined) throw new Error("nobody answers");
    return found;
  });
  const freshMs = Date.now();
  const seen = [thread, attached].map((from) => {
    const times: number[] = [];
    from.subscribe(() => from.current().clockMs >= freshMs && times.push(from.current().clockMs));
    return times;
  });
  thread.setFleet(fleet(101));
  await vi.waitFor(() => expect(attached.current().units).toHaveLength(101), { timeout: 10_000 });
  await vi.waitFor(() => {
    expect(seen[1]).toEqual(seen[0]);
    expect(attached.current()).toEqual({ ...thread.current(), attached: true });
  });
  await attached.close();
  await thread.close();
}, 40_000);
