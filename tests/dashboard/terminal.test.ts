import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, test } from "vitest";
import { pasteWithinMs } from "../../src/dashboard/input/pastes.ts";
import {
  node,
  startInTerminal,
  startShell,
  type TerminalOptions,
  type TerminalSession,
} from "../terminal/pty.ts";

const driver = fileURLToPath(new URL("./driver.ts", import.meta.url));
/** Takes the alternate screen, empty (xterm's control sequences): all that is on it then was drawn since. */
const takesScreen = "\u001b[?1049h";
const sessions: TerminalSession[] = [];

function started(session: TerminalSession): TerminalSession {
  sessions.push(session);
  return session;
}

async function dashboard(
  args: readonly string[] = [],
  options: TerminalOptions = {},
): Promise<TerminalSession> {
  const session = started(startInTerminal(node, [driver, ...args], options));
  await session.shows("state /var/lib/tarnwatch");
  return session;
}

afterEach(() => {
  for (const session of sessions.splice(0)) session.close();
});

/** The terminal is as it was: own screen, cursor, no paste mode, and the farewell readable on it. */
function expectLeft(session: TerminalSession): void {
  expect(session.state()).toEqual({ alternate: false, cursorShown: true, bracketedPaste: false });
}

describe("on a real terminal", () => {
  test("the fleet fills 80 × 24, in colour, on the alternate screen, and q leaves the terminal as it was found", async () => {
    const session = await dashboard();
    expect(session.state()).toMatchObject({ alternate: true, cursorShown: false });
    expect(session.lines()[0]).toContain("Larkmoor ponds");
    expect(session.lines()[3]).toContain("■ LM-03");
    expect(session.lines()[23]).toContain("q quits");
    expect(session.coloured()).toBe(true);
    session.type("q");
    expect(await session.exit()).toBe(0);
    expectLeft(session);
    expect(session.text()).toContain("ended by quit");
  });

  test.each(["SIGINT", "SIGTERM", "SIGHUP"] as const)(
    "%s leaves the terminal as it was found",
    async (name) => {
      const session = await dashboard();
      session.signal(name);
      expect(await session.exit()).toBe(0);
      expectLeft(session);
      expect(session.text()).toContain(`ended by ${name}`);
    },
  );

  test("Ctrl-C ends it as SIGINT does", async () => {
    const session = await dashboard();
    session.press("ctrl-c");
    await session.exit();
    expectLeft(session);
    expect(session.text()).toContain("ended by SIGINT");
  });

  test("an error nobody expected gives the terminal back and ends in 70 with one line", async () => {
    const session = started(startInTerminal(node, [driver, "14", "crash"]));
    expect(await session.exit()).toBe(70);
    expect(session.raw()).toContain("Larkmoor ponds");
    expectLeft(session);
    const said = session.lines().filter((row) => row !== "");
    expect(said.join("")).toBe(
      "tarnwatch: the dashboard failed: the fixture broke on purpose; start it with --debug to see where",
    );
  });

  test("it follows the window from 80 × 24 to very large, to too small, and back", async () => {
    const session = await dashboard(["60"]);
    session.resize(200, 60);
    await session.until(() => session.lines()[59]?.includes("q quits") === true, "200 × 60 to be filled");
    expect(session.lines()[0]).toMatch(/ {60}Mon 4 May 2026/);
    session.resize(50, 10);
    await session.shows("needs at least 60×15, has 50×10");
    expect(session.text()).toMatch(/■ 1 {2}now: LM-03 /);
    expect(session.lines().filter((row) => row.trim() !== "")).toHaveLength(3);
    session.resize(60, 15);
    await session.until(() => session.lines()[14]?.includes("q quits") === true, "60 × 15 to be filled");
    session.resize(80, 24);
    await session.until(() => session.lines()[23]?.includes("q quits") === true, "80 × 24 to be filled");
    expect(session.lines()[3]).toContain("■ LM-03");
    expect(session.lines().filter((row) => row.includes("Larkmoor ponds"))).toHaveLength(1);
  });

  test("drawing only what changed shows the same screen as drawing all of it", async () => {
    const session = await dashboard(["40", "demonstration"]);
    for (let i = 0; i < 12; i++) session.press("down");
    await session.shows("▸ LM-13");
    session.press("enter");
    await session.shows("Readings against");
    session.press("page down", "page up", "escape");
    await session.shows("▸ LM-13");
    session.press("page down");
    await session.until(() => !session.text().includes("▸ LM-13"), "the next page");
    const [head] = session.lines();
    await session.until(() => session.lines()[0] !== head, "a newer view");
    const incremental = session.lines().slice(3);
    session.press("ctrl-l");
    const written = session.raw().length;
    await session.until(() => session.raw().includes(takesScreen, written), "the alternate screen anew");
    await session.shows("q quits");
    expect(session.lines().slice(3)).toEqual(incremental);
  });

  test("a paste is no key, whatever stands before it, and one that has no end leaves the keyboard dead for a second at most", async () => {
    const session = await dashboard();
    session.type("\u001b\u001b[200~qq\u001b[201~");
    session.type("\u001b[200~q");
    session.type("q");
    await sleep(2 * pasteWithinMs);
    session.type("/");
    await session.shows("only _");
    session.press("escape");
    await session.shows("q quits");
    session.type("q");
    expect(await session.exit()).toBe(0);
  });

  test("NO_COLOR leaves no colour, and the marks and words still tell", async () => {
    const plain = await dashboard([], { env: { NO_COLOR: "1" } });
    expect(plain.coloured()).toBe(false);
    expect(plain.text()).toContain("■ 1  now");
  });

  test("without a UTF-8 locale every character on the screen is ASCII", async () => {
    const session = await dashboard([], { env: { LANG: "C" } });
    session.press("enter");
    await session.shows("likely causes");
    session.press("tab");
    await session.shows("The last 4 hours");
    expect(session.text()).toMatch(/^[\x20-\x7e\n]*$/);
  });

  test("on a dumb terminal no text attribute is sent", async () => {
    const session = await dashboard([], { env: { TERM: "dumb" } });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences are what is looked for
    expect(session.raw()).not.toMatch(/\u001b\[[\d;]*m/);
  });
});

describe("as a job of a shell", () => {
  test("Ctrl-Z gives the shell a sane terminal, fg brings the whole screen back, q restores the modes", async () => {
    const shell = started(startShell());
    await shell.shows("prompt>");
    shell.type("stty -a | grep -o -- '-*icanon\\|-*echo\\b' | tr '\\n' ' '; echo before\r");
    await shell.shows(/icanon echo before/);
    shell.type(`${node} ${driver}\r`);
    await shell.shows("q quits");
    shell.press("ctrl-z");
    await shell.shows(/Stopped/);
    expect(shell.state()).toMatchObject({ alternate: false, cursorShown: true });
    shell.type("stty -a | grep -o -- '-*icanon\\|-*echo\\b' | tr '\\n' ' '; echo aside\r");
    await shell.shows(/icanon echo aside/);
    shell.type("fg\r");
    await shell.until(() => shell.lines()[23]?.includes("q quits") === true, "the dashboard to be back");
    expect(shell.state()).toMatchObject({ alternate: true, cursorShown: false });
    expect(shell.lines()[0]).toContain("Larkmoor ponds");
    shell.press("enter");
    await shell.shows("likely causes");
    shell.type("q");
    await shell.shows(/ended by quit\s+prompt>/);
    shell.type("stty -a | grep -o -- '-*icanon\\|-*echo\\b' | tr '\\n' ' '; echo after\r");
    await shell.shows(/icanon echo after/);
    expect(shell.state().alternate).toBe(false);
  });

  /** Waits until the shell tells that the dashboard is stopped, brings it back and leaves it by its keys. */
  async function bringBack(shell: TerminalSession, stop: "SIGTSTP" | "SIGSTOP"): Promise<void> {
    await shell.shows(/Stopped/);
    // SIGSTOP cannot be met; at any other stop the shell gets its own screen back.
    if (stop === "SIGTSTP") expect(shell.state()).toMatchObject({ alternate: false, cursorShown: true });
    // A row of the screen from before the stop may still stand: only what comes now is the dashboard back.
    const before = shell.raw().length;
    shell.type("fg\r");
    await shell.until(() => shell.raw().includes(takesScreen, before), "the alternate screen again");
    await shell.until(() => shell.lines()[23]?.includes("q quits") === true, "the dashboard to be back");
    await shell.until(() => shell.lines()[0]?.includes("Larkmoor ponds") === true, "the whole screen");
    shell.press("enter");
    await shell.shows("likely causes");
    shell.type("q");
    await shell.shows(/ended by quit\s+prompt>/);
    expect(shell.state()).toMatchObject({ alternate: false, cursorShown: true });
  }

  test.each(["SIGTSTP", "SIGSTOP"] as const)(
    "after %s from outside, fg brings the whole screen back",
    async (name) => {
      const shell = started(startShell());
      await shell.shows("prompt>");
      shell.type(`bash -c 'echo pid=$$=; exec ${node} ${driver}'\r`);
      await shell.shows("q quits");
      process.kill(Number(/pid=(\d+)=/.exec(shell.raw())?.[1]), name);
      await bringBack(shell, name);
    },
  );

  test.each(["SIGTSTP", "SIGSTOP"] as const)(
    "%s while its first frame is being written is met as one later",
    async (name) => {
      const shell = started(startShell());
      await shell.shows("prompt>");
      shell.type(`${node} ${driver} 14 'stopped by ${name}'\r`);
      await bringBack(shell, name);
    },
  );
});
