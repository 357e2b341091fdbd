import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { node, startInTerminal, type TerminalSession } from "./pty.ts";

const units = 6;
/** One unit has nearly all of the past, so that it takes its time however many cores there are. */
const rowsOf = (unit: number): number => (unit === 0 ? 300_000 : 10_000);
let folder = "";
let screen: TerminalSession | undefined;

/** Some 20 MB of logs that end now, in a form that is slow to read (quoted); their last reading differs. */
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "tarnwatch-catching-up-"));
  mkdirSync(join(folder, "logs"));
  const ids = Array.from({ length: units }, (_, i) => `LM-0${i + 1}`);
  writeFileSync(
    join(folder, "fleet.yaml"),
    `fleet: Larkmoor ponds\nlogs: logs\ndefaults: { service: { inspection_every: 400 d, cleaning_every: 400 d } }\nunits:\n${ids.map((id) => `  - { id: ${id}, runs: always, sample_interval: 10 s }\n`).join("")}`,
  );
  const endMs = Math.floor(Date.now() / 10_000) * 10_000 + 120_000;
  const header =
    "time,motor_current_a,motor_temperature_c,suction_pressure_kpa,discharge_pressure_kpa,gas_pressure_kpa,ozone\n";
  const rows: string[] = [];
  for (let i = rowsOf(0); i >= 0; i--) {
    const time = new Date(endMs - i * 10_000).toISOString();
    rows.push(`"${time}",${i === 0 ? "8.88" : "9.31"},58.20,-24.10,86.40,24.30,on\n`);
  }
  for (const [unit, id] of ids.entries())
    writeFileSync(join(folder, "logs", `${id}.csv`), header + rows.slice(-rowsOf(unit)).join(""));
});
afterEach(() => screen?.close());
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const start = (args: readonly string[]): TerminalSession => {
  screen = startInTerminal(node, ["dist/launch.js", ...args]);
  return screen;
};

describe("a first start on a long past", () => {
  it("shows the newest readings at once, and obeys every key while it reads the rest", async () => {
    const { shows, text, press, until, lines } = start(["watch", join(folder, "fleet.yaml")]);
    await shows(/LM-01 … running +8\.9/);
    expect(text()).toMatch(/reading the logs: \d+ % \(\d+\.\d of \d+\.\d MB\)/);
    expect(text()).toContain("catching up");
    expect(text()).not.toMatch(/nobody is needed {2}/);
    const tookMs: number[] = [];
    let rate = "";
    for (let at = 1; text().includes("reading the logs"); at++) {
      rate ||= /\d MB\/s · .* left/.exec(text())?.[0] ?? "";
      const down = at % 2 === 1;
      const pressedMs = performance.now();
      press(down ? "down" : "up");
      await until(() => lines().some((row) => row.startsWith(down ? "▸ LM-02" : "▸ LM-01")), "the key");
      tookMs.push(performance.now() - pressedMs);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    tookMs.sort((a, b) => a - b);
    expect(tookMs.length).toBeGreaterThan(5);
    // Alone on a machine a key takes about 20 ms; the bounds leave room for a busy one.
    expect(tookMs[Math.floor(tookMs.length / 2)]).toBeLessThan(150);
    expect(tookMs.at(-1)).toBeLessThan(1500);
    expect(rate).not.toBe("");
    await shows(/LM-01 ≈ running +8\.9/);
    await shows("nobody is needed");
  });

  /** Nothing is kept there, so that all is read. */
  const check = () => ["check", join(folder, "fleet.yaml"), "--state", join(folder, "nothing kept")];

  it("check tells on a terminal how far it is, in one line that is gone at the end", async () => {
    const { exit, lines, raw } = start(check());
    expect(await exit(20_000)).toBe(0);
    const told = raw().match(/\rreading the logs: \d+ % \([^)]+\) · [\d.]+ MB\/s · \d+ s left/g) ?? [];
    expect(told.length).toBeGreaterThan(0);
    expect(lines()[0]?.trimEnd()).toMatch(/^Larkmoor ponds, .*: 6 units$/);
    expect(lines().join("\n")).not.toContain("reading the logs");
  });

  it("check leaves a clean line also where it is interrupted", async () => {
    const { exit, shows, press, lines } = start(check());
    await shows("reading the logs");
    press("ctrl-c");
    expect(await exit()).toBe(130);
    expect(lines().join("\n")).not.toContain("reading the logs");
  });
});
