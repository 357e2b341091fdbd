import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { environment, folderWith, projectFolder } from "../support/program.ts";
import { node, startInTerminal, type TerminalSession } from "./pty.ts";

const demo = [join(projectFolder, "dist", "launch.js"), "demo"];
let session: TerminalSession | undefined;
afterEach(() => session?.close());

/** Settles once the demonstration has made its folder, long before it can show anything. */
const begun = (temporary: string) =>
  vi.waitFor(() => expect(readdirSync(temporary)).toHaveLength(1), { timeout: 30_000, interval: 2 });

describe("a signal while the demonstration starts", () => {
  it.each([
    ["SIGINT", 130],
    ["SIGTERM", 143],
    ["SIGHUP", 129],
  ] as const)("%s ends it with %i, the terminal untouched and no folder left", async (signal, status) => {
    const temporary = folderWith({});
    session = startInTerminal(node, demo, { env: { TMPDIR: temporary } });
    await begun(temporary);
    session.signal(signal);
    expect(await session.exit()).toBe(status);
    expect(session.raw()).toBe("");
    expect(readdirSync(temporary)).toEqual([]);
  });

  it("leaves no folder without a terminal either", async () => {
    const temporary = folderWith({});
    const child = spawn(node, demo, { env: { ...environment, TMPDIR: temporary }, stdio: "ignore" });
    const ended = new Promise((resolve) => child.on("exit", (code, signal) => resolve({ code, signal })));
    await begun(temporary);
    child.kill("SIGTERM");
    expect(await ended).toEqual({ code: 143, signal: null });
    expect(readdirSync(temporary)).toEqual([]);
  });
});
