import { existsSync } from "node:fs";
import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { node, startInTerminal, type TerminalOptions, type TerminalSession } from "./pty.ts";

const sessions: TerminalSession[] = [];
const closeAll = () => {
  for (const session of sessions.splice(0)) session.close();
};

/** The demonstration of `npm start`, faster than there, so that its faults begin within seconds. */
function demonstration(options?: TerminalOptions): TerminalSession {
  const session = startInTerminal(node, ["dist/launch.js", "demo", "--speed", "240"], options);
  sessions.push(session);
  return session;
}

/** A fault begins when its time has come, and a busy machine takes its time as well. */
const faultMs = 40_000;

describe("the demonstration, from its start to its end", () => {
  let session: TerminalSession;
  beforeAll(() => {
    session = demonstration({ columns: 160, rows: 100 });
    return closeAll;
  });

  it("says that it is one and how fast time runs, and shows the invented fleet worst first", async () => {
    const { shows, text } = session;
    await shows("Wrenfold ponds");
    await shows(/demonstration · invented fleet · time runs 240 × faster/);
    await shows(/now.*soon.*quiet/);
    expect(text()).toMatch(/■ .*\n.*(Lost prime|Overheating|Not running|Ozone while stopped) for/);
    expect(text()).toMatch(/state \S+/);
  });

  it("opens the unit that lost its prime and says why, with the numbers, what to do and the cautions", async () => {
    const { shows, press, until, text } = session;
    await shows(/QM-01 .*\n.*Lost prime for/, faultMs);
    press("home");
    await until(() => text().includes("▸"), "a chosen unit");
    for (let step = 0; step < 12 && !/▸ ■ QM-01/.test(text()); step++) {
      const before = text();
      press("down");
      await until(() => text() !== before, "the next unit to be chosen");
    }
    press("enter");
    await shows(/QM-01 · Quillmere golf course/);
    await shows(/Discharge pressure collapsed to .* \(baseline .*\).*unloaded/s);
    await shows("likely causes");
    await shows("Unplug the unit and keep the plug with you");
    await shows(/motor current +1\d\.\d A .*12\.\d to 13\.\d/);
    press("escape");
    await shows(/now.*soon.*quiet/);
  }, 60_000);

  it("shows faults begin as one watches: ozone off, a motor that trips, an ozone cell that stays on", async () => {
    const { shows } = session;
    await shows(/QM-02 +Ozone off for/, faultMs);
    await shows(/OX-04 .*\n.*Not running for/, faultMs);
    await shows(/AC-02 .*\n.*Ozone while stopped for/, faultMs);
  }, 60_000);

  it("is drawn anew at each size, from very large to 80×24 and back", async () => {
    const { shows, resize, lines, until } = session;
    await shows("Wrenfold ponds");
    for (const [columns, rows] of [
      [300, 100],
      [80, 24],
      [120, 40],
    ]) {
      resize(columns, rows);
      const whole = () => lines()[0].includes("Wrenfold ponds") && /q quits/.test(lines()[rows - 1] ?? "");
      await until(whole, `the head in row 1 and the foot in row ${rows}`);
    }
  });

  it("leaves the terminal and the disk as it found them on q", async () => {
    const { shows, text, type, exit, state } = session;
    await shows(/state \S+\/state/);
    const folder = /state (\S+)\/state/.exec(text())?.[1] ?? "";
    expect(existsSync(folder)).toBe(true);
    type("q");
    expect(await exit()).toBe(0);
    expect(state()).toEqual({ alternate: false, cursorShown: true, bracketedPaste: false });
    expect(existsSync(folder)).toBe(false);
  });
});

describe("the demonstration where NO_COLOR is set", () => {
  afterEach(closeAll);

  it.each([
    ["SIGTERM", 143],
    ["SIGHUP", 129],
  ] as const)(
    "uses no colour, tells everything in words and marks, and ends on %s with %i, the terminal restored",
    async (signal, status) => {
      const { shows, coloured, signal: send, exit, state } = demonstration({ env: { NO_COLOR: "1" } });
      await shows(/■ .*\n.*(Lost prime|Overheating|Not running|Ozone while stopped) for/);
      expect(coloured()).toBe(false);
      send(signal);
      expect(await exit()).toBe(status);
      expect(state()).toEqual({ alternate: false, cursorShown: true, bracketedPaste: false });
    },
  );
});
