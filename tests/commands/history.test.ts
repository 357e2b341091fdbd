import { join } from "node:path";
import { describe, expect, it } from "vitest";

import { hearing, type Renewed } from "../../src/assess/heard.ts";
import { messageIn } from "../../src/collector/event-words.ts";
import { takeBack } from "../../src/fleet/services.ts";

import { openDatabase } from "../../src/store/database.ts";
import { insertEvents } from "../../src/store/events.ts";
import { openStateFolder } from "../../src/store/folder.ts";
import { addService, type SaidService } from "../../src/store/services.ts";
import { addWord } from "../../src/store/words.ts";
import { hour, minute } from "../../src/terms/time.ts";
import type { StoredWord, Word } from "../../src/terms/words.ts";
import { fleetFile } from "../support/fleets.ts";
import { folderWith, onlyError, run } from "../support/program.ts";
import { unitOf } from "../support/unit-days.ts";

const raisedMs = Math.floor(Date.now() / 1000) * 1000 - 5 * hour;

/** As the rule says it in stored units, with its evidence. */
const collapsed = {
  message:
    "Discharge pressure collapsed to 1.5 kPa (baseline 86.4 kPa) and the motor ran unloaded at 6.1 A (baseline 9.2 A).",
  evidence: {
    discharge_pressure: { value: 1.5, baseline: 86.4, unit: "kPa" },
    motor_current: { value: 6.1, baseline: 9.2, unit: "A" },
  },
};

function said(action: Word["action"], by: string, atMs: number, more: Partial<Word> = {}): Word {
  return { id: `${action} ${by} ${atMs}`, unit: "LM-01", alarm: "lost-prime", action, by, atMs, ...more };
}

/** The history as text and as JSON of a fleet of LM-02 alone, where these words were said of LM-01. */
async function historyWith(
  words: readonly Word[],
  changes: readonly [string, number][] = [],
  services: readonly SaidService[] = [],
  fleet = fleetFile(["{ id: LM-02 }"]),
) {
  const folder = folderWith({ "fleet.yaml": fleet, "logs/LM-02.csv": "" });
  const state = join(folder, "state");
  const opened = await openStateFolder(state);
  if (opened.problem !== undefined) throw new Error(opened.problem);
  const { value } = openDatabase(opened.value);
  if (value === undefined) throw new Error("no database");
  insertEvents(
    value.db,
    changes.map(([event, timeMs], n) => ({
      unit: "LM-01",
      seq: n + 1,
      timeMs,
      line: JSON.stringify({
        time: new Date(timeMs).toISOString(),
        unit: "LM-01",
        seq: n + 1,
        alarm: "lost-prime",
        event,
        priority: "high",
        ...collapsed,
      }),
    })),
  );
  for (const word of words) addWord(value.db, word);
  for (const service of services) addService(value.db, service);
  value.db.close();
  return (...more: string[]) => run(["history", join(folder, "fleet.yaml"), "--state", state, ...more]);
}

describe("the history", () => {
  const both = [
    said("acknowledge", "Ann", raisedMs + minute, { raisedMs }),
    said("acknowledge", "Ben", raisedMs + 2 * minute, { raisedMs }),
  ];

  it("says of a second acknowledgement who had acknowledged it before, also of a unit that is in the fleet no longer", async () => {
    const history = await historyWith(both, [["raised", raisedMs]]);
    const { stdout } = await history("--unit", "LM-01");
    const [, ann, ben] = stdout.trim().split("\n");
    expect(ann).toMatch(/acknowledged by Ann {2}Lost prime$/);
    expect(ben).toMatch(/acknowledged by Ben {2}Lost prime; Ann had, at .+$/);
    const lines = (await history("--json")).stdout
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(lines[1]).not.toHaveProperty("already_by");
    expect(lines[2]).toMatchObject({
      by: "Ben",
      already_by: "Ann",
      already_at: new Date(raisedMs + minute).toISOString(),
    });
  });

  it("takes an acknowledgement for one anew once the alarm has become more urgent", async () => {
    const history = await historyWith(both, [
      ["raised", raisedMs],
      ["priority-changed", raisedMs + 1.5 * minute],
    ]);
    expect((await history("--unit", "LM-01")).stdout).not.toContain("Ann had");
  });

  it("refuses a unit that neither the fleet file nor the state knows", async () => {
    const history = await historyWith([]);
    expect(onlyError(await history("--unit", "LM-1"))).toContain(
      "'LM-1' is no unit of this fleet; the nearest is LM-02",
    );
  });
});

it("who was first is known of words before the window, and looked up for those within it alone", () => {
  const acknowledged = (n: number, by: string, atMs: number): StoredWord => ({
    ...said("acknowledge", by, atMs, { raisedMs: n }),
    row: n,
  });
  const many = 20_000;
  const words = ["Ann", "Ben"].flatMap((by, hours) =>
    Array.from({ length: many }, (_, n) => acknowledged(n, by, n + hours * many)),
  );
  const looked: number[] = [];
  const renewed: Renewed = (_unit, _alarm, _fromMs, toMs) => {
    looked.push(toMs);
    return false;
  };
  const before = performance.now();
  const told = hearing(words, 0, renewed, (_, timeMs) => timeMs >= 2 * many - 2);
  // Each word held against all others takes several seconds, once over them a few hundredths of one.
  expect(performance.now() - before).toBeLessThan(2000);
  expect(looked).toEqual([2 * many - 2, 2 * many - 1]);
  expect(told.map(({ by, already }) => [by, already?.by])).toEqual([
    ["Ben", "Ann"],
    ["Ben", "Ann"],
  ]);
});

describe("the end of a shelving of all alarms", () => {
  const ends = (...words: Word[]) =>
    hearing(
      words.map((word, n): StoredWord => ({ ...word, row: n + 1 })),
      1000,
    )
      .filter(({ by }) => by === undefined)
      .map(({ timeMs, alarm, except }) => [timeMs, alarm, except]);
  const shelved = said("shelve", "Ann", 0, { alarm: "all", untilMs: 100 });

  it("leaves out alarms of which something else was said meanwhile", () => {
    expect(ends(shelved)).toEqual([[100, "all", undefined]]);
    expect(ends(shelved, said("unshelve", "Ben", 40))).toEqual([[100, "all", ["lost-prime"]]]);
    expect(ends(shelved, said("shelve", "Ben", 40, { untilMs: 300 }))).toEqual([
      [100, "all", ["lost-prime"]],
      [300, "lost-prime", undefined],
    ]);
    expect(ends(shelved, said("unshelve", "Ben", 140))).toEqual([[100, "all", undefined]]);
  });

  it("is not told where all were taken back, or shelved anew", () => {
    expect(ends(shelved, said("unshelve", "Ben", 40, { alarm: "all" }))).toEqual([]);
    expect(ends(shelved, said("shelve", "Ben", 40, { alarm: "all", untilMs: 300 }))).toEqual([
      [300, "all", undefined],
    ]);
  });
});

describe("what people did at a unit", () => {
  const untilMs = raisedMs + hour;
  const record = (work: SaidService["work"], step: SaidService["step"], atMs: number, more = {}) =>
    ({
      id: `${work} ${step} ${atMs}`,
      unit: "LM-01",
      work,
      step,
      atMs,
      by: "Ann",
      saidMs: atMs,
      ...more,
    }) as const;
  const stop = record("planned stop", "begin", raisedMs + 240 * hour, {
    untilMs: raisedMs + 250 * hour,
    saidMs: raisedMs + 2 * minute,
    note: "pond drained",
  });
  const services = [
    record("cleaning", "begin", raisedMs, { untilMs, note: "gas line" }),
    stop,
    { ...takeBack(stop, raisedMs + 3 * minute), id: "back", by: "Ben", saidMs: raisedMs + 3 * minute },
    record("inspection", "done", raisedMs + 4 * minute, { saidMs: raisedMs + 90 * minute }),
  ];

  it("stands in the history by who, until when and why, with what ended by its time", async () => {
    const history = await historyWith([], [], services);
    const { stdout } = await history("--unit", "LM-01");
    const said = stdout
      .trim()
      .split("\n")
      .map((line) => line.split("  LM-01  ")[1]);
    expect(said).toEqual([
      expect.stringMatching(/^cleaning begun by Ann until .*: gas line$/),
      expect.stringMatching(/^stop planned by Ann from .* until .*: pond drained$/),
      expect.stringMatching(/^stop taken back by Ben: pond drained$/),
      expect.stringMatching(/^inspection done by Ann, put on record .*$/),
      "cleaning ended by itself",
    ]);
    const lines = (await history("--json")).stdout
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(lines.map(({ service, event, by }) => [service, event, by])).toEqual([
      ["cleaning", "begun", "Ann"],
      ["planned stop", "planned", "Ann"],
      ["planned stop", "taken-back", "Ben"],
      ["inspection", "done", "Ann"],
      ["cleaning", "ended", undefined],
    ]);
    expect(lines[1]).toMatchObject({
      from: new Date(stop.atMs).toISOString(),
      until: new Date(raisedMs + 250 * hour).toISOString(),
      note: "pond drained",
      record: 2,
    });
  });
});

describe("the history's text", () => {
  it("says numbers in the units of the display, as the screen does; the JSON stays as it was kept", async () => {
    const fleet = fleetFile(["{ id: LM-01 }"], "display: us\n");
    const history = await historyWith([], [["raised", raisedMs]], [], fleet);
    expect((await history()).stdout).toContain("collapsed to 0.2 psi (baseline 12.5 psi)");
    expect((await history("--json")).stdout).toContain(collapsed.message);
  });

  it("converts a message number by number where its evidence does not give it, each by the gauge named last", () => {
    const unit = unitOf("{ id: LM-01 }");
    const other = { ...collapsed, alarm: "lost-prime", message: "Prime went at 1.5 kPa." };
    expect(messageIn(other, unit, "us")).toBe("Prime went at 0.2 psi.");
    expect(messageIn(other, unit, "si")).toBe(other.message);
    const many =
      "Suction at -20.5 kPa, clean -17.8 kPa; discharge at 102.7 kPa (−18.0 %); 83.9 °C, 10 K above; 2 m, 75 L/min; in 5 min.";
    // 1 inHg = 3.38639 kPa, 1 psi = 6.89476 kPa, 1 gal = 3.785412 L (NIST SP 811).
    expect(messageIn({ alarm: "unusual-running", message: many }, undefined, "us")).toBe(
      "Suction at -6.1 inHg, clean -5.3 inHg; discharge at 14.9 psi (−18.0 %); 183 °F, 18 °F above; 6.6 ft, 19.8 gpm; in 5 min.",
    );
    expect(messageIn({ ...other, message: "Back to normal." }, unit, "us")).toBe("Back to normal.");
    expect(messageIn({ ...collapsed, alarm: "lost-prime" }, unit, "us")).toContain("0.2 psi");
  });
});
