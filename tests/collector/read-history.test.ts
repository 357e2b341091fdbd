import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Worded } from "../../src/collector/event-words.ts";
import { type HistoryEntry, type HistoryWanted, newerFirst } from "../../src/collector/history-page.ts";
import { readHistory } from "../../src/collector/read-history.ts";
import { addService } from "../../src/store/services.ts";
import { addWord } from "../../src/store/words.ts";
import { alarmNames } from "../../src/terms/alarms.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { emptyState, keepEvents } from "../support/kept.ts";
import { told, word } from "../support/lives.ts";

const nowMs = Date.UTC(2026, 4, 31);
const wanted = (over: Partial<HistoryWanted> = {}): HistoryWanted => ({
  sinceMs: nowMs - day,
  untilMs: nowMs,
  before: null,
  rows: 50,
  filter: "",
  sites: {},
  ...over,
});

const fleet: Worded = { units: [], display: "si" };

async function allOf(folder: string, over: Partial<HistoryWanted> = {}): Promise<readonly HistoryEntry[]> {
  const entries: HistoryEntry[] = [];
  for (;;) {
    const before = entries.at(-1) ?? null;
    const { value } = await readHistory(folder, wanted({ before, ...over }), () => false, fleet);
    entries.push(...(value?.entries ?? []));
    if (!value?.more) return entries;
  }
}

describe("the alarm history by pages", () => {
  it("gives every change and word once, the newest first, however many share a moment", async () => {
    const { folder, db } = await emptyState();
    // 40 changes and 12 words within three moments at two units.
    const moments = [nowMs - hour, nowMs - 2 * hour, nowMs - 3 * hour];
    const events = moments.flatMap((timeMs) =>
      ["LM-01", "LM-02"].flatMap((unit) =>
        alarmNames.slice(0, 7).map((alarm) => told(timeMs, "raised", { unit, alarm })),
      ),
    );
    keepEvents(db, events.toReversed());
    for (const [n, timeMs] of [...moments, ...moments].entries())
      for (const unit of ["LM-01", "LM-02"])
        addWord(db, word(timeMs, "note", { id: `${n} ${unit}`, unit, note: "seen" }));
    const whole = await allOf(folder, { rows: 1000 });
    expect(whole).toHaveLength(events.length + 12);
    expect(whole).toEqual(whole.toSorted(newerFirst));
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 60 }), async (rows) => {
        expect(await allOf(folder, { rows })).toEqual(whole);
      }),
      { numRuns: 12 },
    );
    db.close();
  });

  it("is of the time that is asked for, and of nothing else", async () => {
    const { folder, db } = await emptyState();
    keepEvents(db, [told(nowMs - 3 * hour), told(nowMs - 2 * hour, "cleared"), told(nowMs - hour)]);
    const range = { sinceMs: nowMs - 2 * hour, untilMs: nowMs - hour - 1 };
    expect(await allOf(folder, range)).toMatchObject([{ timeMs: nowMs - 2 * hour, event: "cleared" }]);
    db.close();
  });

  it("is found by unit, site, alarm, what happened and who said it", async () => {
    const { folder, db } = await emptyState();
    keepEvents(db, [
      told(nowMs - 3 * hour, "raised", { unit: "LM-01", alarm: "ozone-off" }),
      told(nowMs - 2 * hour, "raised", { unit: "LM-02" }),
    ]);
    addWord(db, word(nowMs - hour, "shelve", { unit: "LM-02", untilMs: nowMs - 30 * minute }));
    const found = async (filter: string) =>
      (await allOf(folder, { filter, sites: { "LM-01": "Otter Pool" } })).map(
        ({ unit, event }) => `${unit} ${event}`,
      );
    expect(await found("otter")).toEqual(["LM-01 raised"]);
    expect(await found("ozone off")).toEqual(["LM-01 raised"]);
    expect(await found("ann")).toEqual(["LM-02 shelved"]);
    // A shelving that nobody ended came to its end by itself.
    expect(await found("cavitation")).toEqual(["LM-02 unshelved", "LM-02 shelved", "LM-02 raised"]);
    db.close();
  });

  it("has services among what people said, and finds them by their work", async () => {
    const { folder, db } = await emptyState();
    keepEvents(db, [told(nowMs - 3 * hour)]);
    const service = { unit: "LM-01", work: "cleaning", by: "Ann" } as const;
    for (const [step, agoH] of [
      ["begin", 2],
      ["end", 1],
    ] as const) {
      const atMs = nowMs - agoH * hour;
      addService(db, { ...service, step, atMs, saidMs: atMs, id: step });
    }
    const all = await allOf(folder, {});
    expect(all.map(({ event, service: of }) => `${event} ${of?.work ?? ""}`)).toEqual([
      "ended cleaning",
      "begun cleaning",
      "raised ",
    ]);
    expect(await allOf(folder, { filter: "cleaning begun" })).toHaveLength(1);
    db.close();
  });

  it("says numbers in the units of the display, and is found by them", async () => {
    const { folder, db } = await emptyState();
    const event = { ...told(nowMs - hour), message: "Discharge pressure froze at 100 kPa." };
    keepEvents(db, [event]);
    const us: Worded = { units: [], display: "us" };
    const found = async (filter: string, of: Worded) =>
      (await readHistory(folder, wanted({ filter }), () => false, of)).value?.entries.map(
        ({ message }) => message,
      );
    expect(await found("", fleet)).toEqual([event.message]);
    expect(await found("14.5 psi", us)).toEqual(["Discharge pressure froze at 14.5 psi."]);
    expect(await found("kPa", us)).toEqual([]);
    db.close();
  });

  it("is empty where nothing is kept, and can be called off", async () => {
    expect(await readHistory("/nowhere", wanted(), () => false, fleet)).toEqual({
      value: { entries: [], more: false },
    });
    const { folder, db } = await emptyState();
    keepEvents(
      db,
      Array.from({ length: 2500 }, (_, n) => told(nowMs - n * 1000, n % 2 ? "cleared" : "raised")),
    );
    expect(await readHistory(folder, wanted({ filter: "nothing fits" }), () => true, fleet)).toEqual({
      value: undefined,
    });
    db.close();
  });
});
