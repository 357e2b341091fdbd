import { setTimeout as sleep } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { loadUnit, saveUnits, type UnitSave } from "../../src/store/checkpoints.ts";
import { eventsOf } from "../../src/store/events.ts";
import { addWord, wordsAfter } from "../../src/store/words.ts";
import { nthSave, savedUnits } from "./child.ts";
import { child, database, done, emptyFolder, freshLogs, kill, stateFolder } from "./workbench.ts";

describe("a unit's checkpoint", () => {
  it("comes back whole: state, where each log stood, events, the last word", async () => {
    const folder = await stateFolder();
    const db = database(folder);
    const logs = { ...freshLogs(emptyFolder()), rejected: Number.NaN };
    const save: UnitSave = {
      unit: "LM-01",
      text: '{"condition":{"$number":"NaN"}}',
      logs,
      events: [{ unit: "LM-01", seq: 1, timeMs: 1000, line: "{}" }],
      people: { "lost-prime": { by: "Ann" } },
      wordRow: 7,
      serviceRow: 2,
    };
    done(saveUnits(db, [save]));
    db.close();
    expect(done(loadUnit(database(folder), "LM-01"))).toEqual({
      text: save.text,
      logs,
      people: save.people,
      wordRow: 7,
      serviceRow: 2,
      seq: 1,
      toldMs: 1000,
    });
  });

  it("is the newest one; a unit that has none has none", async () => {
    const db = database(await stateFolder());
    done(saveUnits(db, [nthSave("LM-01", 1)]));
    done(saveUnits(db, [nthSave("LM-01", 2)]));
    expect(done(loadUnit(db, "LM-01"))).toMatchObject({ text: nthSave("LM-01", 2).text, seq: 2 });
    expect(done(loadUnit(db, "LM-02"))).toBeNull();
  });

  it("is not stored at all where one of its parts cannot be", async () => {
    const db = database(await stateFolder());
    done(saveUnits(db, [nthSave("LM-01", 1), nthSave("LM-02", 1)]));
    const other = { ...nthSave("LM-02", 2), events: [{ unit: "LM-02", seq: 1, timeMs: 0, line: "another" }] };
    expect(() => saveUnits(db, [nthSave("LM-01", 2), other])).toThrow("event 1");
    expect(done(loadUnit(db, "LM-01"))).toMatchObject({ wordRow: 1, seq: 1 });
    done(saveUnits(db, [nthSave("LM-01", 2)]));
  });

  it("is whole whenever the process that writes it is killed: twenty-five times", {
    timeout: 60_000,
  }, async () => {
    /** Kills one after another on a state folder; each goes on from what the last one left. */
    async function killed(times: number): Promise<void> {
      const folder = await stateFolder();
      for (let kills = 0, before = 0; kills < times; kills++) {
        const saving = await child("save", folder);
        await sleep(kills % 7);
        await kill(saving);
        const db = database(folder);
        const saved = savedUnits.map((unit) => ({ unit, ...done(loadUnit(db, unit)) }));
        const n = saved[0]?.wordRow ?? 0;
        for (const { unit, ...rest } of saved) {
          const { text, logs, people, wordRow, serviceRow } = nthSave(unit, n);
          expect(rest).toMatchObject({ text, logs, people, wordRow, serviceRow, seq: n });
        }
        expect(n).toBeGreaterThan(before);
        expect(done(eventsOf(db))).toHaveLength(n * savedUnits.length);
        before = n;
        db.close();
      }
    }
    await Promise.all([killed(13), killed(12)]);
  });
});

describe("a full disk", () => {
  it("is said in one line, changes nothing, and is forgotten once there is room", async () => {
    const folder = await stateFolder();
    const db = database(folder);
    done(saveUnits(db, [nthSave("LM-01", 1)]));
    const word = { id: "1", atMs: 0, unit: "LM-01", alarm: "all", action: "note", by: "Ann" } as const;
    const pages = Number(db.prepare("PRAGMA page_count").get()?.page_count);
    db.exec(`PRAGMA max_page_count = ${pages}`);
    const full = `${folder.path}/main.db: the disk is full, and nothing of this was stored; free space on it`;
    const large = { ...nthSave("LM-01", 2), text: "x".repeat(1_000_000) };
    expect(saveUnits(db, [large])).toEqual({ problem: full });
    expect(addWord(db, { ...word, note: "x".repeat(100_000) })).toEqual({ problem: full });
    expect(done(loadUnit(db, "LM-01"))).toMatchObject({ wordRow: 1, seq: 1 });
    expect(done(wordsAfter(db, 0))).toEqual([]);
    db.exec("PRAGMA max_page_count = 1000000");
    done(saveUnits(db, [large]));
    done(addWord(db, word));
    expect(done(loadUnit(db, "LM-01"))).toMatchObject({ wordRow: 2, seq: 2 });
  });
});
