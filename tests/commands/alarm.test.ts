import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { hearing } from "../../src/assess/heard.ts";
import { alarm } from "../../src/commands/alarm.ts";
import { record } from "../../src/commands/service.ts";
import { openDatabase } from "../../src/store/database.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { servicesAfter } from "../../src/store/services.ts";
import { wordsAfter } from "../../src/store/words.ts";
import { hour } from "../../src/terms/time.ts";
import type { StoredWord } from "../../src/terms/words.ts";
import { folderWith } from "../support/program.ts";

function fleet(): { path: string; state: string } {
  const folder = folderWith({ "logs/LM-01.csv": "" });
  const path = join(folder, "fleet.yaml");
  writeFileSync(path, "logs: logs\nunits:\n  - { id: LM-01 }\n");
  return { path, state: join(folder, "state") };
}

async function kept(state: string) {
  const folder = await openStateFolder(state);
  if (folder.problem !== undefined) throw new Error(folder.problem);
  const opened = openDatabase(folder.value);
  if (opened.problem !== undefined) throw new Error(opened.problem);
  const { db } = opened.value;
  const words = wordsAfter(db, 0).value ?? [];
  const services = servicesAfter(db, 0).value ?? [];
  db.close();
  return { words, services };
}

describe("a person's word from a shell", () => {
  it("is kept where nobody collects", async () => {
    const { path, state } = fleet();
    expect(await alarm("shelve", path, "LM-01", "sensor-fault", { for: "2h", by: "Ann", state })).toBe(0);
    const [word] = (await kept(state)).words;
    expect(word).toMatchObject({ unit: "LM-01", alarm: "sensor-fault", action: "shelve", by: "Ann" });
    expect((word.untilMs ?? 0) - word.atMs).toBe(2 * hour);
  });

  it.each([
    ["shelve", "LM-01", "sensor-fault", {}, "an alarm is shelved with an end, never without; write --for 2h"],
    ["shelve", "LM-01", "sensor-fault", { for: "8 d" }, "for longer, take it out of service"],
    ["shelve", "LM-01", "sensor-fault", { for: "soon" }, "--for 'soon' is not a length of time"],
    [
      "acknowledge",
      "LM-01",
      "cavitation",
      {},
      "LM-01: no cavitation stands there to be acknowledged; standing: none",
    ],
    ["note", "LM-01", "all", {}, 'a note says something; write --note "…"'],
    ["acknowlege", "LM-01", "all", {}, "'acknowlege' is no action; write acknowledge"],
    ["ack", "LM-01", "all", {}, "'ack' is no action; write acknowledge"],
    ["acknowledge", "LM-1", "all", {}, "'LM-1' is no unit of this fleet; the nearest is LM-01"],
    ["acknowledge", "LM-01", "cavitaton", {}, "'cavitaton' is no alarm; write cavitation"],
  ] as const)(
    "%s %s %s %o is refused in one line that says what to write",
    async (action, unit, name, more, says) => {
      const { path, state } = fleet();
      await expect(alarm(action, path, unit, name, { ...more, state })).rejects.toThrow(says);
      expect((await kept(state)).words).toEqual([]);
    },
  );
});

describe("a service from a shell", () => {
  it("that is begun has its end by itself; one that was not begun cannot end", async () => {
    const { path, state } = fleet();
    await expect(record("end", path, "LM-01", "cleaning", { state })).rejects.toThrow(
      "no cleaning is begun there",
    );
    await record("begin", path, "LM-01", "cleaning", { state, by: "Ben" });
    await record("end", path, "LM-01", "cleaning", { state, by: "Ben" });
    const { services } = await kept(state);
    expect(services.map(({ step }) => step)).toEqual(["begin", "end"]);
    expect((services[0].untilMs ?? 0) - services[0].atMs).toBe(8 * hour);
  });
});

it("a shelving ends in the history by its time, unless somebody ended it before", () => {
  const word = (row: number, atMs: number, action: StoredWord["action"], untilMs?: number): StoredWord => ({
    row,
    id: String(row),
    atMs,
    unit: "LM-01",
    alarm: "cavitation",
    action,
    by: "Ann",
    ...(untilMs !== undefined && { untilMs }),
  });
  const told = (words: StoredWord[], nowMs: number) =>
    hearing(words, nowMs).map(({ event, timeMs, by }) => [event, timeMs, by]);
  expect(told([word(1, 0, "shelve", 100)], 50)).toEqual([["shelved", 0, "Ann"]]);
  expect(told([word(1, 0, "shelve", 100)], 100)).toEqual([
    ["shelved", 0, "Ann"],
    ["unshelved", 100, undefined],
  ]);
  expect(told([word(1, 0, "shelve", 100), word(2, 40, "unshelve")], 200)).toEqual([
    ["shelved", 0, "Ann"],
    ["unshelved", 40, "Ann"],
  ]);
});
