import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { followPerformance } from "../../src/collector/follow-performance.ts";
import {
  type PerformanceView,
  performanceReader,
  readPerformance,
} from "../../src/collector/read-performance.ts";
import { keptSince } from "../../src/store/kept-since.ts";
import { inTransaction } from "../../src/store/outcome.ts";
import { emptySummary } from "../../src/store/pack.ts";
import type { Database } from "../../src/store/sqlite.ts";
import { dropOldSummaries, insertSummaries, levels } from "../../src/store/summaries.ts";
import { addWord } from "../../src/store/words.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { emptyState, keepEvents } from "../support/kept.ts";
import { told, word } from "../support/lives.ts";
import { folderWith } from "../support/program.ts";

const nowMs = Date.UTC(2026, 4, 31);

/** Readings of a unit from a time on, as they are summed up by now. */
function readingsFrom(db: Database, unit: string, fromMs: number): void {
  inTransaction(db, () => {
    db.prepare("INSERT INTO units VALUES (?, '', '', '', 0, 0)").run(unit);
    for (const { stepMs, packMs, keepMs } of levels) {
      const firstMs = Math.max(fromMs, nowMs - keepMs - packMs);
      const slots = Math.ceil((nowMs - firstMs) / stepMs);
      const rows = { fromMs: Math.floor(firstMs / stepMs) * stepMs, signals: [emptySummary(0, slots)] };
      insertSummaries(db, unit, [{ stepMs, ...rows }]);
    }
  });
  dropOldSummaries(db, nowMs);
}

async function read(folder: string, ...windowsMs: number[]): Promise<readonly (PerformanceView | null)[]> {
  const { value } = await readPerformance(folder, { fromMs: windowsMs.map((w) => nowMs - w), toMs: nowMs });
  return value ?? [];
}

describe("the figures of a state folder", () => {
  it("several windows at once, with what was raised before and what people said", async () => {
    const { folder, db } = await emptyState();
    readingsFrom(db, "LM-01", nowMs - 20 * day);
    keepEvents(db, [told(nowMs - 3 * day), told(nowMs - 2 * hour, "raised", { alarm: "ozone-off" })]);
    addWord(db, word(nowMs - hour, "acknowledge", { alarm: "ozone-off", raisedMs: nowMs - 2 * hour }));
    db.close();
    const [eight, week] = await read(folder, 8 * hour, 7 * day);
    expect(eight).toMatchObject({
      announced: 1,
      stale: [{ unit: "LM-01", alarm: "cavitation" }],
      acknowledgement: { all: { acknowledged: 1, medianMs: hour } },
    });
    expect(week).toMatchObject({ announced: 2, fromMs: nowMs - 7 * day });
    expect(week?.held.find(({ figure }) => figure === "perDay")?.verdict).toBe("within");
  });

  it("a window begins where anything is known: days of which nobody read a log are no quiet days", async () => {
    const { folder, db } = await emptyState();
    readingsFrom(db, "LM-01", nowMs - 2 * day);
    keepEvents(db, [told(nowMs - hour)]);
    db.close();
    const [month] = await read(folder, 30 * day);
    expect(month).toMatchObject({ fromMs: nowMs - 2 * day, perDay: 0.5 });
  });

  it("thousands of events are read in pieces, and can be called off in between", async () => {
    const { folder, db } = await emptyState();
    readingsFrom(db, "LM-01", nowMs - 20 * day);
    keepEvents(
      db,
      Array.from({ length: 2500 }, (_, n) =>
        told(nowMs - 9 * day + n * minute, n % 2 ? "cleared" : "raised"),
      ),
    );
    db.close();
    expect((await read(folder, 10 * day))[0]?.announced).toBe(1250);
    let asked = 0;
    const isOver = () => ++asked === 2;
    const off = await readPerformance(folder, { fromMs: [nowMs - 10 * day], toMs: nowMs, isOver });
    expect(off).toEqual({ value: undefined });
    expect(asked).toBe(2);
  });

  it("where nothing is kept, or nothing before the window's end, there are no figures", async () => {
    const { folder, db } = await emptyState();
    db.close();
    expect(await read(folder, day)).toEqual([null]);
    expect(await read(join(folder, "none"), day)).toEqual([null]);
  });
});

describe("one look after another", () => {
  const fromMs = (toMs: number) => [toMs - day, toMs - 7 * day];
  const raisings = (unit: string, firstMs: number, many: number, everyMs: number) =>
    Array.from({ length: many }, (_, n) =>
      told(firstMs + n * everyMs, n % 2 ? "cleared" : "raised", { unit }),
    );

  it("gives what a first look would, whatever came in between: events and words, late ones too", async () => {
    const { folder, db } = await emptyState();
    readingsFrom(db, "LM-01", nowMs - 20 * day);
    const reader = performanceReader(folder);
    const events = raisings("LM-01", nowMs - 9 * day, 301, hour / 2);
    const look = async (toMs: number): Promise<void> => {
      const wanted = { fromMs: fromMs(toMs), toMs };
      expect((await reader(wanted)).value).toEqual((await readPerformance(folder, wanted)).value);
    };
    keepEvents(db, events);
    addWord(db, word(nowMs - 8 * day, "shelve", { untilMs: nowMs + hour }));
    await look(nowMs);
    const more = [
      [told(nowMs + minute, "raised", { unit: "LM-02" })],
      // Read late: within what is told anew, and long before it.
      [told(nowMs - hour, "raised", { unit: "LM-03" })],
      [told(nowMs - 5 * day, "raised", { unit: "LM-04" })],
      [],
      [told(nowMs + 2 * hour, "cleared", { unit: "LM-02" })],
    ];
    for (const [n, added] of more.entries()) {
      events.push(...added);
      keepEvents(db, events);
      addWord(db, word(nowMs + n * hour, "acknowledge", { unit: "LM-02", raisedMs: nowMs + minute }));
      if (n === 3) addWord(db, word(nowMs - 6 * day, "unshelve"));
      await look(nowMs + (n + 1) * 5 * hour);
    }
    const ofOne = { fromMs: fromMs(nowMs + 26 * hour), toMs: nowMs + 26 * hour, unit: "LM-02" };
    expect((await reader(ofOne)).value).toEqual((await readPerformance(folder, ofOne)).value);
    await look(nowMs + 3 * day);
    db.close();
  });

  it("does not read again what has been told long ago", async () => {
    const { folder, db } = await emptyState();
    readingsFrom(db, "LM-01", nowMs - 20 * day);
    keepEvents(db, raisings("LM-01", nowMs - 9 * day, 5000, minute));
    db.close();
    const reader = performanceReader(folder);
    const piecesAt = async (toMs: number): Promise<number> => {
      let pieces = 0;
      const isOver = () => ++pieces < 0;
      const { value } = await reader({ fromMs: [toMs - 10 * day], toMs, isOver });
      expect(value?.[0]?.announced).toBe(2500);
      return pieces;
    };
    expect(await piecesAt(nowMs)).toBe(10);
    expect(await piecesAt(nowMs + minute)).toBe(0);
  });
});

describe("figures that are followed", () => {
  it("are there after a moment, of 24 h and 30 d", async () => {
    const { folder, db } = await emptyState();
    keepEvents(db, [told(Date.now() - 5 * day), told(Date.now() - hour, "raised", { unit: "LM-02" })]);
    db.close();
    const followed = followPerformance(folder, () => {});
    const there = [{ announced: 1, stale: [{ unit: "LM-01" }] }, { announced: 2 }];
    await vi.waitFor(() => expect(followed.current()).toMatchObject(there), 30_000);
    followed.close();
  });

  it("what cannot be read is said, and is no figure", async () => {
    const folder = folderWith({ "main.db": "no database" });
    const problems: (string | null)[] = [];
    const followed = followPerformance(folder, (problem) => problems.push(problem));
    const said = [expect.stringContaining("it is damaged")];
    await vi.waitFor(() => expect(problems).toEqual(said), 30_000);
    expect(followed.current()).toEqual([]);
    followed.close();
  });
});

describe("since when anything is known", () => {
  it.each([
    [5 * hour, hour],
    [2.3 * day, hour],
    [12.4 * day, day],
    [200.6 * day, 4 * day],
  ])("of readings for %d ms, no more than %d ms too early", async (forMs, within) => {
    const { db } = await emptyState();
    readingsFrom(db, "LM-01", nowMs - forMs);
    readingsFrom(db, "LM-02", nowMs - forMs / 2);
    const since = keptSince(db) ?? Number.NaN;
    expect(nowMs - forMs - since).toBeGreaterThanOrEqual(0);
    expect(nowMs - forMs - since).toBeLessThan(within);
    expect(keptSince(db, "LM-02")).toBeGreaterThan(since);
    db.close();
  });
});
