import { describe, expect, it } from "vitest";
import { type EventsWanted, eventsOf, insertEvents, newestEvent } from "../../src/store/events.ts";
import { database, done, stateFolder } from "./workbench.ts";

const event = (unit: string, seq: number, timeMs: number, alarm = "lost-prime") => ({
  unit,
  seq,
  timeMs,
  line: JSON.stringify({ unit, seq, alarm }),
});
const night = [
  event("LM-02", 1, 1000),
  event("LM-01", 1, 1000),
  event("LM-01", 2, 1000),
  event("LM-01", 3, 5000),
];

describe("the alarm history", () => {
  it.each<[string, EventsWanted, string[]]>([
    ["all of it", {}, ["LM-01 1", "LM-01 2", "LM-02 1", "LM-01 3"]],
    ["since a time, that time with it", { sinceMs: 5000 }, ["LM-01 3"]],
    ["until a time, that time with it", { untilMs: 1000 }, ["LM-01 1", "LM-01 2", "LM-02 1"]],
    ["of a unit", { unit: "LM-01", sinceMs: 0, untilMs: 4999 }, ["LM-01 1", "LM-01 2"]],
    ["of a unit that told nothing", { unit: "LM-09" }, []],
  ])("tells by time: %s", async (_what, wanted, expected) => {
    const db = database(await stateFolder());
    insertEvents(db, night);
    expect(done(eventsOf(db, wanted)).map(({ unit, seq }) => `${unit} ${seq}`)).toEqual(expected);
  });

  it("gives each event back to the byte", async () => {
    const db = database(await stateFolder());
    insertEvents(db, night);
    expect(done(eventsOf(db, { unit: "LM-02" }))).toEqual([night[0]]);
  });

  it("come in order over many pages", async () => {
    const db = database(await stateFolder());
    const many = Array.from({ length: 2500 }, (_, n) => {
      const unit = n % 2 === 0 ? "LM-01" : "LM-02";
      return { unit, seq: Math.floor(n / 2) + 1, timeMs: 1000 * Math.floor(n / 10), line: `{"n":${n}}` };
    });
    insertEvents(db, many);
    const inOrder = many.toSorted(
      (a, b) => a.timeMs - b.timeMs || a.unit.localeCompare(b.unit) || a.seq - b.seq,
    );
    expect(done(eventsOf(db))).toEqual(inOrder);
    expect(done(eventsOf(db, { unit: "LM-02" }))).toEqual(inOrder.filter(({ unit }) => unit === "LM-02"));
  });

  it("has an event once, however often it is told after a crash", async () => {
    const db = database(await stateFolder());
    insertEvents(db, night);
    insertEvents(db, night.slice(1));
    expect(done(eventsOf(db))).toHaveLength(4);
    const places = ["LM-01", "LM-02", "LM-03"].map((unit) => newestEvent(db, unit)?.seq);
    expect(places).toEqual([3, 1, undefined]);
  });

  it("does not let one event take another's place", async () => {
    const db = database(await stateFolder());
    insertEvents(db, night);
    expect(() => insertEvents(db, [event("LM-01", 3, 5000, "overheating")])).toThrow(
      "event 3 is already stored",
    );
  });
});
