import { setTimeout as sleep } from "node:timers/promises";
import fc from "fast-check";
import { cleanup } from "ink-testing-library";
import { afterEach, expect, test, vi } from "vitest";
import type { Said } from "../../src/collector/keeping.ts";
import { readWithinMs } from "../../src/dashboard/saying/use-saying.ts";
import { key, openedOn, passTime, stopTime } from "./opened.tsx";
import { keptFleet, peopleSource } from "./people.ts";

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const pause = "a pause in which a person could read";
const lines = [
  "shelve all 2h",
  "shelve lost-prime 2h",
  "out-of-service all",
  "acknowledge site",
  "acknowledge all",
  "begin cleaning",
  "plan now 2h pond drained",
  "done repair",
];
const line = fc.constantFrom(...lines);
const noise = fc.oneof(
  fc.constantFrom("w", "c", "y", "u", key.enter, key.esc, key.tab, key.down, "\u007f", pause),
  line.map((text) => `w${text}\rc`),
  line.map((text) => `\u001b[200~w${text}\rc\u001b[201~`),
  fc
    .array(fc.constantFrom("w", "c", "y", "\r", "\n", key.down, " "), { minLength: 2, maxLength: 5 })
    .map((keys) => keys.join("")),
  fc.string({ unit: "binary", minLength: 1, maxLength: 12 }),
);
const mostly = (right: string, ...wrong: readonly string[]) =>
  fc.oneof({ weight: 3, arbitrary: fc.constant(right) }, { weight: 1, arbitrary: fc.constantFrom(...wrong) });
/** What somebody would do to say something, with every piece as it should be, or in a burst, or left out, or noise instead. */
const scene = fc
  .tuple(
    mostly("w", "wy"),
    line,
    mostly("", "\r", "\rc", "\u001b[200~\rc\u001b[201~"),
    mostly(key.enter, "\rc", "\r\r"),
    mostly(pause, ""),
    mostly("c", "cc", "y", key.enter),
    noise,
    fc.nat({ max: 12 }),
  )
  .map(([opens, text, more, enters, waits, answers, odd, at]) =>
    [opens, text + more, enters, waits, answers, key.esc]
      .toSpliced(at, at % 2, odd)
      .filter((one) => one !== ""),
  );
const isQuiet = (one: Said): boolean =>
  one.kind === "word" &&
  (["acknowledge", "unshelve", "return-to-service", "note"].includes(one.word.action) ||
    (one.word.action === "shelve" && one.word.alarm === "ozone-off"));

/** What a piece of input may have led to: a confirmation only what was asked, Enter and `y` only what needs none. */
function mayLeadTo(typed: string, wasAsked: string | null, said: readonly Said[]): boolean {
  if (typed === "c") return wasAsked !== null;
  if (typed === "y") return said.every((one) => one.kind === "word" && one.word.action === "acknowledge");
  if (typed === key.enter) return said.every(isQuiet) && new Set(said.map(unitOf)).size <= 1;
  return typed === "u" && said.every((one) => isQuiet(one) || one.kind === "service");
}

function unitOf(one: Said): string {
  return one.kind === "word" ? one.word.unit : one.record.unit;
}

test("some hundred keys and pastes at random never say what nobody confirmed", {
  timeout: 60_000,
}, async () => {
  const view = keptFleet();
  const source = peopleSource({ ...view, units: view.units.slice(2, 3) });
  const { type, screen, shows } = openedOn(source);
  await shows("LM-03");
  stopTime();
  const asked = (): string | null => (/ c {2}confirms it/.test(screen()) ? screen() : null);
  let confirmed = 0;
  let readable = false;
  for (const typed of fc.sample(scene, { seed: 20_260_504, numRuns: 30 }).flat()) {
    if (typed === pause) {
      passTime(readWithinMs);
      readable = true;
      continue;
    }
    const before = asked();
    const heard = source.said.length;
    type(typed);
    await sleep(0);
    // A lone Esc is known as such once nothing has followed it for a while.
    if (typed.endsWith(key.esc)) await sleep(25);
    await sleep(0);
    const said = source.said.slice(heard);
    const mayConfirm = readable ? before : null;
    readable = readable && asked() === before;
    if (said.length === 0) continue;
    if (typed === "c") confirmed++;
    expect(mayLeadTo(typed, mayConfirm, said), `${JSON.stringify(typed)} said ${JSON.stringify(said)}`).toBe(
      true,
    );
  }
  expect(confirmed).toBeGreaterThan(2);
});
