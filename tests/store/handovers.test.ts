import { expect, it } from "vitest";
import { addHandover, lastHandover } from "../../src/store/handovers.ts";
import { addWord, wordsAfter } from "../../src/store/words.ts";
import { database, done, stateFolder } from "./workbench.ts";

it("the newest handover is found again, and is no word on an alarm", async () => {
  const db = database(await stateFolder());
  expect(done(lastHandover(db))).toBeNull();
  done(addHandover(db, { id: "1", atMs: 1000, by: "Ann", seen: new Map([["LM-01", 7]]) }));
  done(addWord(db, { id: "2", atMs: 1500, unit: "LM-01", alarm: "all", action: "note", by: "Ben" }));
  done(addHandover(db, { id: "3", atMs: 2000, by: "Ben", seen: new Map([["LM-01", 9]]) }));
  done(addHandover(db, { id: "3", atMs: 3000, by: "Cy", seen: new Map() }));
  expect(done(lastHandover(db))).toEqual({ atMs: 2000, by: "Ben", seen: new Map([["LM-01", 9]]) });
  expect(done(wordsAfter(db, 0)).map(({ id }) => id)).toEqual(["2"]);
});
