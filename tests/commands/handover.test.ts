import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openDatabase } from "../../src/store/database.ts";
import { addWord, wordsAfter } from "../../src/store/words.ts";
import { hour, iso, minute } from "../../src/terms/time.ts";
import { called } from "../support/called.ts";
import { fleetFile, primeLost, quietDay } from "../support/fleets.ts";
import { emptyState } from "../support/kept.ts";
import { logText } from "../support/log-files.ts";
import { folderWith, onlyError } from "../support/program.ts";
import { readings } from "../support/unit-days.ts";

/** A fleet whose logs go on past now: LM-01 has lost its prime five minutes ago, LM-02 runs clean. */
function pondsNow(): string {
  const startMs = Math.floor(Date.now() / minute) * minute - 65 * minute;
  return folderWith({
    "fleet.yaml": fleetFile(["{ id: LM-01, site: Heron Bend }", "{ id: LM-02 }"]),
    "logs/LM-01.csv": logText(readings(primeLost, 10, startMs)),
    "logs/LM-02.csv": logText(readings(quietDay, 10, startMs)),
  });
}

describe("handover", () => {
  it("begins where the last one that was given ended, and says in one line that nothing is new; a look moves nothing", async () => {
    const cwd = pondsNow();
    const { folder: state, db } = await emptyState();
    db.close();
    const handOver = (...more: string[]) =>
      called(["handover", "fleet.yaml", "--state", state, ...more], { cwd });
    const glance = await handOver("--by", "Cy");
    expect(glance.stdout).toContain("; nobody has handed over before.\n");
    expect(glance.stderr).toBe("a look, not kept; once you have handed over, write it with --given\n");
    const first = await handOver("--given", "--by", "Ann");
    expect(first.status).toBe(0);
    expect(first.stdout).toContain("; nobody has handed over before.\n");
    expect(first.stdout).toContain("\nWRONG NOW\n- HIGH LM-01, Heron Bend: Lost prime for ");
    expect(Math.max(...first.stdout.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(first.stderr).toMatch(
      /^kept as handed over by Ann; the next one begins here; the same again: --since \S+Z\n$/,
    );
    const again = await handOver("--since", first.stderr.trim().split(" ").at(-1) ?? "");
    expect(again.stdout).toMatch(/\nSince .+\n\nWRONG NOW\n/);
    expect(again.stderr).toBe("");
    const look = await handOver("--by", "Cy");
    expect(look.stdout.replaceAll("\n", " ")).toMatch(
      /Nothing new since .+, when Ann handed over: no alarm came or went/,
    );
    expect(look.stdout).toContain("\nWRONG NOW\n");
    expect((await handOver("--given", "--by", "Ben")).stdout).toContain("when Ann handed over");
    expect((await handOver()).stdout).toContain("when Ben handed over");
    expect((await called(["history", "fleet.yaml", "--state", state], { cwd })).stdout).not.toContain(
      "handover",
    );
  });

  it("is Markdown on demand, with what people said", async () => {
    const cwd = pondsNow();
    const { folder: state, db } = await emptyState();
    const word = {
      id: "1",
      unit: "LM-02",
      alarm: "all",
      action: "note",
      by: "Ann",
      note: "*pond is low*",
    } as const;
    addWord(db, { ...word, atMs: Date.now() - hour });
    db.close();
    const options = ["--markdown", "--since", iso(Date.now() - 2 * hour)];
    const { stdout } = await called(["handover", "fleet.yaml", "--state", state, ...options], { cwd });
    expect(stdout).toMatch(/^# Test ponds: handover, /);
    expect(stdout).toMatch(
      /\n## Said and done\n\n- .+ LM-02: all alarms noted by Ann: \\\*pond is low\\\*\n/,
    );
  });

  it("looks back from a time of the fleet's zone", async () => {
    const text = "timezone: America/Chicago\nunits:\n  - { id: LM-01 }\n";
    const log = logText(readings(quietDay, 10, Date.now() - 2 * hour));
    const cwd = folderWith({ "fleet.yaml": text, "logs/LM-01.csv": log });
    const args = ["handover", "fleet.yaml", "--state", "none", "--since", "2026-05-03 18:00"];
    expect((await called(args, { cwd })).stdout).toMatch(/^Since 3 May 2026 18:00\.$/m);
  });

  it("tells what the logs say where no state is kept, and makes none", async () => {
    const cwd = pondsNow();
    const ended = await called(["handover", "fleet.yaml", "--state", "none", "--given"], { cwd });
    expect(ended.status).toBe(0);
    expect(ended.stdout).toContain("No state is kept: ");
    expect(ended.stdout).toContain("HIGH LM-01, Heron Bend: Lost prime");
    expect(ended.stderr).toBe(
      "no state is kept there yet, so this handover is not; start watch or collect first\n",
    );
    expect(existsSync(join(cwd, "none"))).toBe(false);
  });

  it("keeps a handover beside the words that a collector takes in", async () => {
    const cwd = pondsNow();
    const { folder: state, db } = await emptyState();
    db.close();
    await called(["handover", "fleet.yaml", "--state", state, "--given"], { cwd });
    const opened = openDatabase({ path: state, fileMode: 0o600 });
    expect(opened.value && wordsAfter(opened.value.db, 0)).toEqual({ value: [] });
    opened.value?.db.close();
  });

  it.each<[string, string[]]>([
    ["--since 'noon' is not a time; write it like 14:30, or 2026-05-04 14:30", ["--since", "noon"]],
    ["--since lies ahead; write a time that has been", ["--since", "2999-01-01T00:00:00Z"]],
  ])("refuses in one line: %s", async (line, more) => {
    expect(
      onlyError(await called(["handover", "fleet.yaml", "--state", "none", ...more], { cwd: pondsNow() })),
    ).toContain(line);
  });
});
