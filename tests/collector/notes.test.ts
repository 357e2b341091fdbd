import { expect, it } from "vitest";
import { notesIn } from "../../src/collector/alarm-views.ts";
import { hearIn } from "../../src/collector/respond.ts";
import { day } from "../../src/terms/time.ts";
import type { Word } from "../../src/terms/words.ts";

const nowMs = 100 * day;

function notesOf(...said: readonly Pick<Word, "alarm" | "atMs" | "note">[]) {
  const responses = {};
  for (const [row, one] of said.entries())
    hearIn(responses, { id: `${row}`, row, unit: "LM-01", action: "note", by: "Ann", ...one });
  return notesIn(responses, nowMs).map(({ alarm, note }) => `${alarm}: ${note}`);
}

it("the newest note of an alarm is shown, one of all alarms once, the newest first", () => {
  expect(
    notesOf(
      { alarm: "all", atMs: nowMs - 3000, note: "the pond is low" },
      { alarm: "lost-prime", atMs: nowMs - 2000, note: "leaks" },
      { alarm: "lost-prime", atMs: nowMs - 1000, note: "mended" },
    ),
  ).toEqual(["lost-prime: mended", "all: the pond is low"]);
});

it("a note that is older than a week is left to the history", () => {
  expect(notesOf({ alarm: "all", atMs: nowMs - 7 * day - 1, note: "old" })).toEqual([]);
  expect(notesOf({ alarm: "all", atMs: nowMs - 7 * day, note: "new" })).toEqual(["all: new"]);
});
