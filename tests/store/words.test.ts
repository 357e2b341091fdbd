import { describe, expect, it } from "vitest";
import { addWord, wordsAfter } from "../../src/store/words.ts";
import type { Word } from "../../src/terms/words.ts";
import { child, database, done, stateFolder } from "./workbench.ts";

const acknowledged: Word = {
  id: "0b8e1f0e-6a4c-4f58-9a0e-6a5d2f1c7b11",
  atMs: Date.UTC(2026, 4, 4, 3, 15),
  unit: "LM-01",
  alarm: "lost-prime",
  action: "acknowledge",
  by: "Ann",
};
const shelved: Word = {
  ...acknowledged,
  id: "c0a7d6a2-9a6b-4a5f-8f3e-2d1b0c9e8f77",
  alarm: "all",
  action: "shelve",
  untilMs: Date.UTC(2026, 4, 4, 5, 15),
  note: "the pond is being drained; Ben knows",
};

describe("people's words", () => {
  it("come back as they were said, in the order in which they were stored", async () => {
    const db = database(await stateFolder());
    done(addWord(db, acknowledged));
    done(addWord(db, shelved));
    expect(done(wordsAfter(db, 0))).toEqual([
      { row: 1, ...acknowledged },
      { row: 2, ...shelved },
    ]);
    expect(done(wordsAfter(db, 1))).toEqual([{ row: 2, ...shelved }]);
    expect(done(wordsAfter(db, 2))).toEqual([]);
  });

  it("said twice under one id are one word", async () => {
    const db = database(await stateFolder());
    done(addWord(db, acknowledged));
    done(addWord(db, acknowledged));
    expect(done(wordsAfter(db, 0))).toHaveLength(1);
  });

  it("of another process are seen within a second", async () => {
    const folder = await stateFolder();
    const db = database(folder);
    expect(done(wordsAfter(db, 0))).toEqual([]);
    await child("word", folder);
    const saidMs = performance.now();
    while (done(wordsAfter(db, 0)).length === 0 && performance.now() - saidMs < 1000);
    expect(done(wordsAfter(db, 0))).toMatchObject([{ unit: "LM-01", alarm: "lost-prime", by: "Ann" }]);
  });

  it("are never given the row of one that is gone", async () => {
    const db = database(await stateFolder());
    done(addWord(db, acknowledged));
    db.exec("DELETE FROM words");
    done(addWord(db, shelved));
    expect(done(wordsAfter(db, 1))).toMatchObject([{ row: 2 }]);
  });
});
