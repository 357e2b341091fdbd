import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import type { UnitLogState } from "../../src/acquire/unit-log.ts";
import { saveUnits } from "../../src/store/checkpoints.ts";
import { openDatabase } from "../../src/store/database.ts";
import { newestEvent } from "../../src/store/events.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { tryLock } from "../../src/store/lock.ts";
import { addWord } from "../../src/store/words.ts";

/** Units that the saving process writes in each of its transactions. */
export const savedUnits = ["LM-01", "LM-02", "LM-03"];

/** The n-th checkpoint of the saving process: every part of it tells n. */
export function nthSave(unit: string, n: number) {
  return {
    unit,
    text: JSON.stringify({ n, filling: "x".repeat(16_000) }),
    logs: { version: 1, n } as unknown as UnitLogState,
    events: [{ unit, seq: n, timeMs: n * 1000, line: `{"seq":${n}}` }],
    people: {},
    wordRow: n,
    serviceRow: 0,
  };
}

const [what, path = ""] = process.argv.slice(2);
const say = (line: string): boolean => process.stdout.write(`${line}\n`);

/** One process that works on a state folder until it is killed; it says a line once it has begun. */
if (what !== undefined) {
  const opened = await openStateFolder(path);
  const folder = opened.value;
  if (folder === undefined) {
    say(opened.problem);
  } else if (what === "lock") {
    const taken = tryLock(folder).value !== null;
    // The lock must not go with what nobody holds on to.
    setFlagsFromString("--expose-gc");
    runInNewContext("gc")();
    say(taken ? "held" : "refused");
    setInterval(() => {}, 60_000);
  } else {
    const db = openDatabase(folder).value?.db;
    if (db === undefined) throw new Error("the database did not open");
    if (what === "word") {
      const { unit, alarm, action } = { unit: "LM-01", alarm: "lost-prime", action: "acknowledge" } as const;
      addWord(db, { id: "w-1", atMs: 1000, unit, alarm, action, by: "Ann" });
      say("said");
    }
    for (let n = (newestEvent(db, "LM-01")?.seq ?? 0) + 1; what === "save"; n++) {
      saveUnits(
        db,
        savedUnits.map((unit) => nthSave(unit, n)),
      );
      if (n % 3 === 0) say(String(n));
    }
  }
}
