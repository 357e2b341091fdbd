import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { hearing } from "../../src/assess/heard.ts";
import { openDatabase } from "../../src/store/database.ts";
import { insertEvents } from "../../src/store/events.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { addWord } from "../../src/store/words.ts";
import { hour, minute } from "../../src/terms/time.ts";
import type { StoredWord, Word } from "../../src/terms/words.ts";
import { fleetFile } from "../support/fleets.ts";
import { folderWith, onlyError, run } from "../support/program.ts";

const raisedMs = Math.floor(Date.now() / 1000) * 1000 - 5 * hour;

function said(action: Word["action"], by: string, atMs: number, more: Partial<Word> = {}): Word {
  return { id: `${action} ${by} ${atMs}`, unit: "LM-01", alarm: "lost-prime", action, by, atMs, ...more };
}

/** The history as text and as JSON of a fleet of LM-02 alone, where these words were said of LM-01. */
async function historyWith(words: readonly Word[], changes: readonly [string, number][] = []) {
  const folder = folderWith({ "fleet.yaml": fleetFile(["{ id: LM-02 }"]), "logs/LM-02.csv": "" });
  const state = join(folder, "state");
  const opened = await openStateFolder(state);
  if (opened.problem !== undefined) throw new Error(opened.problem);
  const { value } = openDatabase(opened.value);
  if (value === undefined) throw new Error("no database");
  insertEvents(
    value.db,
    changes.map(([event, timeMs], n) => ({
      unit: "LM-01",
      seq: n + 1,
      timeMs,
      line: JSON.stringify({
        time: new Date(timeMs).toISOString(),
        unit: "LM-01",
        seq: n + 1,
        alarm: "lost-prime",
        event,
        priority: "high",
        message: "Prime.",
      }),
    })),
  );
  for (const word of words) addWord(value.db, word);
  value.db.close();
  return (...more: string[]) => run(["history", join(folder, "fleet.yaml"), "--state", state, ...more]);
}

describe("the history", () => {
  const both = [
    said("acknowledge", "Ann", raisedMs + minute, { raisedMs }),
    said("acknowledge", "Ben", raisedMs + 2 * minute, { raisedMs }),
  ];

  it("says of a second acknowledgement who had acknowledged it before, also of a unit that is in the fleet no longer", async () => {
    const history = await historyWith(both, [["raised", raisedMs]]);
    const { stdout } = await history("--unit", "LM-01");
    const [, ann, ben] = stdout.trim().split("\n");
    expect(ann).toMatch(/acknowledged by Ann {2}Lost prime$/);
    expect(ben).toMatch(/acknowledged by Ben {2}Lost prime; Ann had, at .+$/);
    const lines = (await history("--json")).stdout
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(lines[1]).not.toHaveProperty("already_by");
    expect(lines[2]).toMatchObject({
      by: "Ben",
      already_by: "Ann",
      already_at: new Date(raisedMs + minute).toISOString(),
    });
  });

  it("takes an acknowledgement for one anew once the alarm has become more urgent", async () => {
    const history = await historyWith(both, [
      ["raised", raisedMs],
      ["priority-changed", raisedMs + 1.5 * minute],
    ]);
    expect((await history("--unit", "LM-01")).stdout).not.toContain("Ann had");
  });

  it("refuses a unit that neither the fleet file nor the state knows", async () => {
    const history = await historyWith([]);
    expect(onlyError(await history("--unit", "LM-1"))).toContain(
      "'LM-1' is no unit of this fleet; the nearest is LM-02",
    );
  });
});

describe("the end of a shelving of all alarms", () => {
  const ends = (...words: Word[]) =>
    hearing(
      words.map((word, n): StoredWord => ({ ...word, row: n + 1 })),
      1000,
    )
      .filter(({ by }) => by === undefined)
      .map(({ timeMs, alarm, except }) => [timeMs, alarm, except]);
  const shelved = said("shelve", "Ann", 0, { alarm: "all", untilMs: 100 });

  it("leaves out alarms of which something else was said meanwhile", () => {
    expect(ends(shelved)).toEqual([[100, "all", undefined]]);
    expect(ends(shelved, said("unshelve", "Ben", 40))).toEqual([[100, "all", ["lost-prime"]]]);
    expect(ends(shelved, said("shelve", "Ben", 40, { untilMs: 300 }))).toEqual([
      [100, "all", ["lost-prime"]],
      [300, "lost-prime", undefined],
    ]);
    expect(ends(shelved, said("unshelve", "Ben", 140))).toEqual([[100, "all", undefined]]);
  });

  it("is not told where all were taken back, or shelved anew", () => {
    expect(ends(shelved, said("unshelve", "Ben", 40, { alarm: "all" }))).toEqual([]);
    expect(ends(shelved, said("shelve", "Ben", 40, { alarm: "all", untilMs: 300 }))).toEqual([
      [300, "all", undefined],
    ]);
  });
});
