import { execFileSync, spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { once } from "node:events";
import { appendFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { expect, it } from "vitest";
import { readDatabase } from "../../src/store/database.ts";
import { eventsOf } from "../../src/store/events.ts";
import type { Database } from "../../src/store/sqlite.ts";
import { wordsAfter } from "../../src/store/words.ts";

/** `npm run soak` asks for five hundred. */
const kills = process.env.TARNWATCH_SOAK === undefined ? 25 : 500;
const program = join(import.meta.dirname, "../../dist/launch.js");

const run = (...args: string[]): string =>
  execFileSync(process.execPath, [program, ...args], { encoding: "utf8", maxBuffer: 1 << 28 });

/** A fleet of invented logs with faults, of which `grow` gives more and more. */
function growingFleet(folder: string): { fleet: string; grow(share: number): void } {
  const from = new Date(Date.now() - 74 * 3600_000).toISOString();
  const whole = join(folder, "whole");
  run(
    "simulate",
    "--out",
    whole,
    "--units",
    "4",
    "--days",
    "3",
    "--interval",
    "5 s",
    "--seed",
    "11",
    "--from",
    from,
  );
  const names = readdirSync(join(whole, "logs")).filter((name) => name.endsWith(".csv"));
  const logs = names.map((name) => ({
    path: join(whole, "logs", name),
    text: readFileSync(join(whole, "logs", name)),
    at: 0,
  }));
  for (const { path } of logs) writeFileSync(path, "");
  const fleet = join(whole, "fleet.yaml");
  // What looks at a clock would tell of when it was killed: here every log may be a month late, and nothing is
  // serviced.
  writeFileSync(
    fleet,
    readFileSync(fleet, "utf8")
      .replace(/^defaults:/m, "defaults:\n  arrives_every: 30 d")
      .replace(/^services:\n(?: .*\n)*/m, ""),
  );
  return {
    fleet,
    grow: (share) => {
      for (const log of logs) {
        const to = Math.round(log.text.length * share);
        appendFileSync(log.path, log.text.subarray(log.at, to));
        log.at = Math.max(log.at, to);
      }
    },
  };
}

const stateOf = (folder: string): Database => {
  const { value, problem } = readDatabase(folder);
  if (!value) throw new Error(problem ?? "no state is kept");
  return value;
};

it(`a collector killed ${kills} times, while it catches up, lives and is spoken to, tells what an undisturbed one tells`, {
  timeout: 60_000 + kills * 2000,
}, async () => {
  const folder = mkdtempSync(join(tmpdir(), "tarnwatch-kills-"));
  try {
    const { fleet, grow } = growingFleet(folder);
    const state = join(folder, "state");
    const collect = () =>
      spawn(process.execPath, [program, "collect", fleet, "--state", state], {
        stdio: ["ignore", "pipe", "pipe"],
      });
    const said: string[] = [];
    const units = readdirSync(join(folder, "whole", "logs")).map((name) => name.replace(/\..*/, ""));
    for (let kill = 0; kill < kills; kill++) {
      grow((kill + 0.5) / kills);
      const collector = collect();
      // Early kills meet it while it starts or catches up, late ones while it follows.
      await sleep(150 + ((kill * 37) % 11) * 20);
      grow((kill + 1) / kills);
      if (kill % 5 === 4) {
        const note = randomUUID();
        run(
          "alarm",
          "note",
          fleet,
          units[kill % units.length],
          "all",
          "--by",
          "Ann",
          "--note",
          note,
          "--state",
          state,
        );
        said.push(note);
      } else await sleep(((kill * 53) % 7) * 20);
      expect(collector.exitCode).toBeNull();
      collector.kill("SIGKILL");
      await once(collector, "exit");
    }
    grow(1);
    const last = collect();
    let logged = "";
    last.stdout.on("data", (text) => {
      logged += text;
    });
    const expected = run("replay", fleet, "--events", "-").trim().split("\n");
    const kept = (): string[] => {
      const db = stateOf(state);
      const lines = (eventsOf(db).value ?? []).map(({ line }) => line);
      db.close();
      return lines;
    };
    for (
      let tries = 0;
      tries < 100 && (kept().length < expected.length || !logged.includes("up to now"));
      tries++
    )
      await sleep(100);
    last.kill("SIGTERM");
    const [status] = await once(last, "exit");
    expect(status).toBe(143);
    expect(expected.length).toBeGreaterThan(5);
    expect(kept().sort()).toEqual([...expected].sort());
    const db = stateOf(state);
    expect((wordsAfter(db, 0).value ?? []).map(({ note }) => note)).toEqual(said);
    db.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
