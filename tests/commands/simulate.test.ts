import { readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { folderWith, onlyError, run } from "../support/program.ts";

describe("simulate", () => {
  test("writes a fleet that replay plays and score judges", async () => {
    const out = folderWith({});
    const made = await run([
      "simulate",
      "--out",
      out,
      "--units",
      "1",
      "--days",
      "1.5",
      "--interval",
      "30 s",
      "--fault",
      "suction-uncovered,after=30h",
    ]);
    expect(made.stdout).toContain("1 units, 4320 readings, 1 faults");
    expect(readdirSync(out).sort()).toEqual(["fleet.yaml", "logs", "services.csv", "truth.csv"]);
    const events = join(out, "events.jsonl");
    await run(["replay", join(out, "fleet.yaml"), "--events", events]);
    const score = await run(["score", "--events", events, "--truth", join(out, "truth.csv")]);
    expect(score.stdout).toMatch(/lost-prime +1 +1 +0/);
  }, 20_000);

  test("--list names each fault, the alarm that ought to tell of it, and what happens", async () => {
    const { stdout, status } = await run(["simulate", "--list"]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/^suction-uncovered +lost-prime +the suction end comes out/m);
  });

  test("a folder that is not empty is left as it is", async () => {
    const out = folderWith({ "notes.txt": "mine" });
    const said = onlyError(await run(["simulate", "--out", out]));
    expect(said).toContain(`${out} is not empty; name another folder, or add --replace`);
    expect(readdirSync(out)).toEqual(["notes.txt"]);
  });

  test.each([
    [["--fault", "suction-coverd"], "the nearest is suction-uncovered"],
    [["--fault", "line-parted,severity=2"], "severity '2' is not above 0 and up to 1"],
    [["--fault", "line-parted,when=3h"], "'when' is not known; write line-parted,severity=0.5,after=30h"],
    [["--interval", "0 s"], "--interval"],
    [["--from", "yesterday"], "--from 'yesterday' is not a time"],
    [["--clean", "--fault", "line-parted"], "write one of them"],
    [["--units", "1.5"], "write a whole number"],
  ])("%j is one clear line", async (args, said) => {
    expect(onlyError(await run(["simulate", "--out", folderWith({}), ...args]))).toContain(said);
  });
});
