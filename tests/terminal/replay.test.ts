import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { fleetFile, primeLostAndFound } from "../support/fleets.ts";
import { logText } from "../support/log-files.ts";
import { folderWith } from "../support/program.ts";
import { readings } from "../support/unit-days.ts";
import { node, startInTerminal, type TerminalSession } from "./pty.ts";

let screen: TerminalSession | undefined;
afterEach(() => screen?.close());

/** The recorded hour and a third of a unit that loses its prime at 01:00. */
function replay(...options: readonly string[]): TerminalSession {
  const folder = folderWith({
    "fleet.yaml": fleetFile(["{ id: LM-01, site: Heron Bend }"]),
    "logs/LM-01.csv": logText(readings(primeLostAndFound)),
  });
  const args = ["dist/launch.js", "replay", join(folder, "fleet.yaml"), ...options];
  screen = startInTerminal(node, args, { columns: 100, rows: 30 });
  return screen;
}

describe("replay in a terminal", () => {
  it("plays a recorded night: to the alarm, a reading on, to a typed time, and to the end", async () => {
    const { shows, type, exit, state } = replay("--speed", "1");
    await shows(/replay +plays · 1 × +4 May 00:00 to 4 May 01:19/);
    type("a");
    await shows(/4 May 2026 01:00:30 UTC/);
    await shows(/paused · 1 × · LM-01 lost prime raised/);
    await shows(/■ LM-01 .*Heron Bend/);
    type("s");
    await shows(/01:00:40 UTC/);
    type("t00:30\r");
    await shows(/00:30:00 UTC[\s\S]*nobody is known to be needed/);
    type("FFfffffffffffp");
    await shows(/01:19:50 UTC[\s\S]*paused · as fast as it can/);
    type("q");
    expect(await exit()).toBe(0);
    expect(state()).toMatchObject({ alternate: false, cursorShown: true });
  });

  it("says at once which fleet is being read, on the screen that it then plays on, and q ends that", async () => {
    const { type, exit, raw, state } = replay();
    type("q");
    expect(await exit()).toBe(0);
    const [taken, told] = ["\u001b[?1049h", "reading the logs of 1 unit"].map((text) => raw().indexOf(text));
    expect(taken).toBeGreaterThanOrEqual(0);
    expect(told).toBeGreaterThan(taken);
    expect(raw()).not.toMatch(/replay +plays/);
    expect(state()).toMatchObject({ alternate: false, cursorShown: true });
  });

  it("begins at --from, ends at --to, and judges by --set", async () => {
    const { shows, type } = replay(
      ...["--from", "2026-05-04T00:50:00Z", "--to", "2026-05-04T01:05:00Z"],
      ...["--set", "lost-prime.delay=2min", "--speed", "max"],
    );
    await shows(/01:05:00 UTC[\s\S]*paused.* 4 May 00:50 to 4 May 01:05/);
    type("A");
    await shows(/01:02:00 UTC[\s\S]*LM-01 lost prime raised/);
    type("A");
    await shows("no earlier alarm");
  });

  it.each([
    ["SIGINT", 130],
    ["SIGTERM", 143],
  ] as const)("is ended by %s with status %i, the terminal left as it was found", async (name, status) => {
    const { shows, signal, exit, state } = replay("--speed", "60");
    const before = state();
    await shows(/replay +plays/);
    expect(state()).toMatchObject({ alternate: true });
    signal(name);
    expect(await exit()).toBe(status);
    expect(state()).toEqual(before);
  });

  it("says where it begins after the last reading, and leaves the terminal alone", async () => {
    const { exit, text, state } = replay("--from", "2026-05-05T00:00:00Z");
    expect(await exit()).toBe(2);
    expect(text()).toMatch(/--from 2026-05-05T00:00:00Z is after the last reading, Mon 4 May 2026 01:19:50/);
    expect(state().alternate).toBe(false);
  });
});
