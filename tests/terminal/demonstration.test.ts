import { existsSync } from "node:fs";
import { afterEach, describe, expect, it } from "vitest";
import { node, startInTerminal, type TerminalOptions, type TerminalSession } from "./pty.ts";

let screen: TerminalSession | undefined;
afterEach(() => screen?.close());

/** The demonstration of `npm start`, faster than there, so that its faults begin within seconds. */
function demonstration(options?: TerminalOptions): TerminalSession {
  screen = startInTerminal(node, ["dist/launch.js", "demo", "--speed", "240"], options);
  return screen;
}

describe("the demonstration", () => {
  it("says that it is one and how fast time runs, and shows the invented fleet worst first", async () => {
    const { shows, text } = demonstration();
    await shows("Wrenfold ponds");
    await shows(/demonstration · invented fleet · time runs 240 × faster/);
    await shows(/now.*soon.*quiet/);
    expect(text()).toMatch(/■ .*\n.*(Lost prime|Overheating|Not running|Ozone while stopped) for/);
    expect(text()).toMatch(/state \S+/);
  });

  it("shows faults begin as one watches: prime lost, ozone off, a motor that trips, an ozone cell that stays on", async () => {
    const { shows } = demonstration({ columns: 160, rows: 70 });
    await shows(/QM-01 .*\n.*Lost prime for/, 30_000);
    await shows(/QM-02 +Ozone off for/, 30_000);
    await shows(/OX-04 .*\n.*Not running for/, 30_000);
    await shows(/AC-02 .*\n.*Ozone while stopped for/, 30_000);
  });

  it("opens the unit that lost its prime and says why, with the numbers, what to do and the cautions", async () => {
    const { shows, press, until, text } = demonstration({ columns: 120, rows: 60 });
    await shows(/QM-01 .*\n.*Lost prime for/, 30_000);
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
  });

  it("is drawn anew at each size, from 80×24 to very large and back", async () => {
    const { shows, resize, lines, until } = demonstration();
    await shows("Wrenfold ponds");
    for (const [columns, rows] of [
      [300, 100],
      [120, 40],
      [80, 24],
    ]) {
      resize(columns, rows);
      const whole = () => lines()[0].includes("Wrenfold ponds") && /q quits/.test(lines()[rows - 1] ?? "");
      await until(whole, `the head in row 1 and the foot in row ${rows}`);
    }
  });

  it("leaves the terminal and the disk as it found them on q", async () => {
    const { shows, text, type, exit, state } = demonstration({ columns: 120 });
    await shows("Wrenfold ponds");
    const folder = /state (\S+)\/state/.exec(text())?.[1] ?? "";
    expect(existsSync(folder)).toBe(true);
    type("q");
    expect(await exit()).toBe(0);
    expect(state()).toEqual({ alternate: false, cursorShown: true, bracketedPaste: false });
    expect(existsSync(folder)).toBe(false);
  });

  it.each([
    ["SIGTERM", 143],
    ["SIGHUP", 129],
  ] as const)("ends on %s with %i, the terminal restored", async (signal, status) => {
    const { shows, signal: send, exit, state } = demonstration();
    await shows("Wrenfold ponds");
    send(signal);
    expect(await exit()).toBe(status);
    expect(state()).toEqual({ alternate: false, cursorShown: true, bracketedPaste: false });
  });

  it("uses no colour where NO_COLOR is set, and tells everything in words and marks", async () => {
    const { shows, coloured } = demonstration({ env: { NO_COLOR: "1" } });
    await shows(/■ .*\n.*(Lost prime|Overheating|Not running|Ozone while stopped) for/);
    expect(coloured()).toBe(false);
  });
});
