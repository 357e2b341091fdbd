import { setTimeout as sleep } from "node:timers/promises";
import { cleanup } from "ink-testing-library";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { Said } from "../../src/collector/keeping.ts";
import { readWithinMs, toldForMs } from "../../src/dashboard/saying/use-saying.ts";
import type { FleetSource } from "../../src/dashboard/source.ts";
import { fixtureSource, fleetView, nightMs } from "./fixture.ts";
import { key, openedOn, passTime } from "./opened.tsx";
import { keptFleet, peopleSource } from "./people.ts";

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const hour = 3_600_000;

type Listening = Omit<ReturnType<typeof peopleSource>, "say"> & Required<Pick<FleetSource, "say">>;

async function started(source: Listening = peopleSource()) {
  const screen = openedOn(source);
  await screen.shows(/▸ ■ LM-03/);
  /** Types a line on the chosen unit, and Enter. */
  const line = (text: string, wanted: string | RegExp) =>
    screen.steps(["w", "Ann says: _"], [text, `${text}_`], [key.enter, wanted]);
  const confirm = async (wanted: string | RegExp): Promise<void> => {
    passTime(readWithinMs);
    await screen.steps(["c", wanted]);
  };
  return { ...screen, line, confirm, said: source.said };
}

const told = (said: readonly Said[]) => said.map((one) => (one.kind === "word" ? one.word : one.record));

describe("an alarm", () => {
  test("is acknowledged alone, as the raising that was seen", async () => {
    const { line, said } = await started();
    await line("acknowledge ozone-off", "LM-03: Ozone off acknowledged by Ann");
    expect(told(said)).toMatchObject([
      { unit: "LM-03", alarm: "ozone-off", action: "acknowledge", by: "Ann", raisedMs: nightMs - 690_000 },
    ]);
  });

  test("a high one is shelved only after c", async () => {
    const { line, confirm, said } = await started();
    await line("shelve lost-prime 2h Ben stands beside it", "It is a high alarm, and it stands.");
    expect(said).toEqual([]);
    await confirm("LM-03: Lost prime shelved by Ann until 05:12, for 2 h · u undoes it");
    expect(told(said)).toMatchObject([
      { alarm: "lost-prime", action: "shelve", untilMs: nightMs + 2 * hour, note: "Ben stands beside it" },
    ]);
  });

  test("a lesser one that stands is shelved at once, and u brings it back", async () => {
    const { line, steps, said } = await started();
    await line(
      "shelve ozone-off 30 min",
      "LM-03: Ozone off shelved by Ann until 03:42, for 30 min · u undoes",
    );
    await steps(["u", "LM-03: Ozone off back from the shelf, undone by Ann"]);
    await steps(["u", "nothing was said here that could be undone"]);
    expect(told(said)).toMatchObject([{ action: "shelve" }, { action: "unshelve", alarm: "ozone-off" }]);
  });

  test("is taken out of service after c, since that has no end, and returned at once", async () => {
    const { line, confirm, said } = await started();
    await line("out-of-service ozone-off cell ordered", "Without an end: until somebody returns it.");
    await confirm("LM-03: Ozone off out of service by Ann");
    await line("return-to-service ozone-off", "LM-03: Ozone off back in service, by Ann");
    expect(told(said)).toMatchObject([
      { action: "out-of-service", note: "cell ordered" },
      { action: "return-to-service", alarm: "ozone-off" },
    ]);
  });

  test("a shelved one is brought back by its name, and noted on", async () => {
    const { line, said } = await started();
    await line("shelve ozone-off 2 h", "shelved by Ann");
    await line("unshelve ozone-off", "LM-03: Ozone off back from the shelf, by Ann");
    await line("note ozone-off pond is low", "LM-03: noted on Ozone off by Ann");
    expect(told(said)).toMatchObject([
      { action: "shelve" },
      { action: "unshelve" },
      { action: "note", alarm: "ozone-off", note: "pond is low" },
    ]);
  });

  test("where a colleague was first, the screen says who, and how long before", async () => {
    const first = { by: "Ben", atMs: nightMs - 1000 };
    const source = peopleSource(keptFleet(), (said) =>
      said.kind === "word" ? [{ ...said, word: { ...said.word, ...first } }] : [],
    );
    const { line } = await started(source);
    await line("acknowledge lost-prime", "LM-03: Lost prime was acknowledged by Ben 1 s before");
  });
});

test("u undoes nothing older than what is being said", async () => {
  const source = peopleSource();
  const kept = Promise.withResolvers<void>();
  let isSlow = false;
  const say: typeof source.say = async (words) => {
    if (isSlow) await kept.promise;
    return source.say(words);
  };
  const { line, steps, shows, said } = await started({ ...source, say });
  await line("shelve ozone-off 2h", "Ozone off shelved by Ann");
  isSlow = true;
  await steps(["w", "Ann says: _"], ["note all low pond", "pond_"], [key.enter, "q quits"]);
  await steps(["u", "nothing was said here that could be undone"]);
  kept.resolve();
  await shows("noted on all alarms by Ann");
  expect(told(said)).toMatchObject([{ action: "shelve" }, { action: "note" }]);
});

test("what came of an older word is told no more once a later one was said, and u undoes the later one", async () => {
  const source = peopleSource();
  const unshown: Said[] = [];
  const say: typeof source.say = async (words) => {
    if (source.said.length > 0) return source.say(words);
    source.said.push(...words);
    unshown.push(...words);
    return null;
  };
  const { line, steps, screen, said } = await started({ ...source, say });
  await line("acknowledge lost-prime", "q quits");
  await line("shelve ozone-off 2h", "Ozone off shelved by Ann");
  source.hear(unshown);
  await sleep(50);
  expect(screen()).toContain("Ozone off shelved by Ann");
  await steps(["u", "LM-03: Ozone off back from the shelf, undone by Ann"]);
  expect(told(said)).toMatchObject([
    { action: "acknowledge" },
    { action: "shelve" },
    { action: "unshelve", alarm: "ozone-off" },
  ]);
});

test("an undo that was not kept can be tried again, and a word that was not kept is told of whatever came after", async () => {
  const source = peopleSource();
  const refusals = ["the state folder is full"];
  const held = Promise.withResolvers<string | null>();
  const say = async (words: readonly Said[]): Promise<string | null> => {
    if (told(words).some((one) => "action" in one && one.action === "note")) return held.promise;
    return (source.said.length > 0 && refusals.pop()) || source.say(words);
  };
  const { line, steps, shows, said } = await started({ ...source, say });
  await line("shelve ozone-off 2h", "Ozone off shelved by Ann");
  await steps(["u", "not kept: the state folder is full"]);
  await steps(["u", "LM-03: Ozone off back from the shelf, undone by Ann"]);
  expect(told(said)).toMatchObject([{ action: "shelve" }, { action: "unshelve" }]);
  await line("note all low pond", "q quits");
  await line("shelve ozone-off 2h", "Ozone off shelved by Ann");
  held.resolve("the disk is full");
  await shows("not kept: the disk is full");
});

test("after a minute u undoes nothing, and says what to write", async () => {
  const { line, steps, said } = await started();
  await line("shelve ozone-off 2h", "Ozone off shelved by Ann");
  passTime(61_000);
  await steps(["u", "too long ago to be undone; write unshelve, return-to-service or end"]);
  expect(said).toHaveLength(1);
});

describe("a unit and a site", () => {
  test("all alarms of a unit are shelved after c, and u brings them back in one word", async () => {
    const { line, confirm, steps, said } = await started();
    await line("shelve all 1 d", "All 27 alarms of the unit, high ones too. Now: ■ Lost prime.");
    await confirm("LM-03: all alarms shelved by Ann until 5 May 03:12, for 1 d");
    await steps(["u", "LM-03: all alarms back from the shelf, undone by Ann"]);
    expect(told(said)).toMatchObject([{ action: "shelve" }, { action: "unshelve", alarm: "all" }]);
  });

  test("u leaves a colleague's shelving alone", async () => {
    const source = peopleSource();
    const { line, confirm, steps, said } = await started(source);
    await line("shelve all 2h", "c  confirms");
    await confirm("all alarms shelved by Ann");
    const word = {
      id: "1",
      atMs: nightMs + 1,
      unit: "LM-03",
      alarm: "cavitation" as const,
      action: "shelve" as const,
      by: "Ben",
      untilMs: nightMs + hour,
    };
    source.hear([{ kind: "word", word }]);
    await steps(["u", "LM-03: 26 alarms back from the shelf, undone by Ann"]);
    const back = told(said).slice(1);
    expect(back).toHaveLength(26);
    expect(back).not.toContainEqual(expect.objectContaining({ alarm: "cavitation" }));
  });

  test("a site's alarms are acknowledged after c, which names each and says how many are high", async () => {
    const { line, confirm, screen, said } = await started();
    await line("acknowledge site", "Otter Pool: 3 alarms, acknowledge");
    expect(screen()).toMatch(/2 units; ■ 1 high\. LM-03 ■ Lost prime, ▲ Ozone off; OP-02 ▲/);
    await confirm("Otter Pool: 3 alarms acknowledged by Ann");
    expect(told(said).map(({ unit }) => unit)).toEqual(["LM-03", "LM-03", "OP-02"]);
  });

  test("an acknowledgement is not undone, and u says why", async () => {
    const { line, confirm, steps, said } = await started();
    await line("acknowledge all", "All that waits at the unit: ■ Lost prime, ▲ Ozone off.");
    await confirm("LM-03: 2 alarms acknowledged by Ann");
    await steps(["u", "an acknowledgement is not undone: others may have relied on it"]);
    expect(said).toHaveLength(2);
  });

  test("what is typed, and the choice, stay with the unit when a worse one comes above it", async () => {
    const source = peopleSource();
    const { confirm, shows, steps, said } = await started(source);
    await steps(["w", "Ann says: _"], ["acknowledge all", "acknowledge all_"]);
    const view = source.current();
    const worse = {
      ...view.units[0],
      alarms: view.units[2].alarms.map((one) => ({ ...one, raisedMs: nightMs })),
    };
    source.show({ ...view, units: [worse, ...view.units.slice(1)] });
    await shows("■ 2  now");
    await steps([key.enter, "LM-03: 2 alarms, acknowledge"]);
    await confirm("LM-03: 2 alarms acknowledged by Ann");
    await shows(/▸ . LM-03/);
    expect(told(said).map(({ unit }) => unit)).toEqual(["LM-03", "LM-03"]);
  });
});

describe("a service", () => {
  test("is begun after c, with its end, and ended at once", async () => {
    const { line, confirm, said } = await started();
    await line(
      "begin cleaning 2h strainer",
      "The unit's process alarms, high ones too, are suppressed meanwhile",
    );
    await confirm("LM-03: cleaning begun by Ann, ends by itself at 05:12 · u undoes it");
    await line("end cleaning", "LM-03: cleaning ended by Ann; it counts as done");
    expect(told(said)).toMatchObject([
      { work: "cleaning", step: "begin", atMs: nightMs, untilMs: nightMs + 2 * hour, note: "strainer" },
      { work: "cleaning", step: "end", atMs: nightMs },
    ]);
  });

  test("one that was begun by mistake is taken back, and does not count as done", async () => {
    const { line, confirm, steps, said } = await started();
    await line("begin repair", "ends by itself at 11:12");
    await confirm("repair begun by Ann");
    await steps(["u", "LM-03: repair is taken back by Ann; it does not count as done"]);
    expect(told(said)).toMatchObject([{ step: "begin" }, { step: "begin", untilMs: nightMs + 1 }]);
  });

  test("one that is over goes on record after c, for its time", async () => {
    const { line, confirm, said } = await started();
    await line("done inspection 02:30 all well", "a record is not taken back");
    await confirm("LM-03: inspection done at 02:30, on record by Ann");
    expect(told(said)).toMatchObject([{ step: "done", atMs: Date.UTC(2026, 4, 4, 7, 30), note: "all well" }]);
  });

  test("a stop is planned after c from and until local times, and taken back", async () => {
    const { line, confirm, steps, said } = await started();
    await line("plan 2026-05-05 06:00 2026-05-05 18:00 pond drained", "are suppressed meanwhile");
    await confirm("LM-03: stop planned by Ann from 5 May 06:00 until 5 May 18:00, for 12 h");
    await steps(["u", "LM-03: the stop that was planned is taken back by Ann"]);
    const fromMs = Date.UTC(2026, 4, 5, 11);
    expect(told(said)).toMatchObject([
      { work: "planned stop", atMs: fromMs, untilMs: fromMs + 12 * hour, note: "pond drained" },
      { work: "planned stop", atMs: fromMs, untilMs: fromMs + 1 },
    ]);
  });

  test("what a unit asks of its baseline is answered after c", async () => {
    const { line, confirm, said } = await started();
    await line("baseline relearn", "The next steady running is taken for clean");
    await confirm("LM-03: its baseline is learned anew, by Ann");
    expect(told(said)).toMatchObject([{ work: "baseline", step: "relearn", by: "Ann" }]);
  });
});

describe("the line", () => {
  test("says what to write instead where it cannot be said, and stays to be mended", async () => {
    const { line, steps, said } = await started();
    await line("shelve ozone-off", "a shelving has an end; write how long: shelve ozone-off 2h");
    await steps([" 2h", "ozone-off 2h_"], [key.enter, "Ozone off shelved by Ann"]);
    expect(said).toHaveLength(1);
  });

  test("lists every action with what it needs, and narrows as it is typed", async () => {
    const { steps, screen } = await started();
    await steps(["w", "Ann says: _"]);
    for (const action of ["acknowledge", "shelve", "unshelve", "out-of-service", "return-to-service"])
      expect(screen()).toMatch(new RegExp(`^ ${action} +ALARM\\|all`, "m"));
    for (const action of ["begin +KIND", "end +KIND", "done +KIND", "plan +FROM", "baseline", "note +ALARM"])
      expect(screen()).toMatch(new RegExp(`^ ${action}`, "m"));
    await steps(["sh", "Ann says: sh_"]);
    expect(screen()).not.toMatch(/^ plan /m);
    await steps(
      [key.tab, "Ann says: shelve _"],
      ["loc", /^ locked-rotor/m],
      [key.tab, "shelve locked-rotor _"],
    );
    await steps(["\u007f\u007f", "shelve locked-roto_"], [key.esc, "q quits"]);
  });

  test("Enter that comes within a paste does not say the line; the paste is text", async () => {
    const { steps, said } = await started();
    await steps(["w", "Ann says: _"], ["acknowledge all\r", "Ann says: acknowledge all _"]);
    await steps(["\u001b[200~note\r\u001b[201~", "Ann says: acknowledge all note _"]);
    expect(said).toEqual([]);
  });
});

describe("what is asked", () => {
  test.each([
    ["y", key.esc],
    ["Enter", key.enter],
    ["a burst that begins with c", "ccc"],
    ["a paste of c", "\u001b[200~c\u001b[201~"],
  ])("%s leaves it unsaid", async (_, typed) => {
    const { line, steps, said } = await started();
    await line("shelve all 2h", "c  confirms it");
    passTime(readWithinMs);
    await steps([typed, "q quits"]);
    expect(said).toEqual([]);
  });

  test("a c that comes with the Enter, or sooner than anybody reads, confirms nothing", async () => {
    const { line, shows, steps, type, said } = await started();
    await steps(["w", "Ann says: _"], ["shelve all 2h", "2h_"], [`${key.enter}c`, "shelve all 2h c_"]);
    await steps([key.esc, "q quits"]);
    await line("shelve all 2h", "c  confirms it");
    type("c");
    await sleep(50);
    await shows("c  confirms it");
    expect(said).toEqual([]);
  });
});

describe("what was asked", () => {
  test("more than a minute ago is not confirmed: another person may have come to the screen", async () => {
    const { line, steps, said } = await started();
    await line("shelve all 2h", "c  confirms it");
    passTime(61_000);
    await steps(["c", "asked more than a minute ago: say it again"]);
    expect(said).toEqual([]);
  });

  test("on a window that became too small to show it is given up with the next key", async () => {
    const { line, shows, resize, type, screen, said } = await started();
    await line("shelve all 2h", "c  confirms it");
    passTime(readWithinMs);
    resize(40);
    await shows("make the window larger");
    type("c");
    await sleep(50);
    resize(100);
    await shows(/▸ ■ LM-03/);
    expect(screen()).not.toContain("c  confirms it");
    expect(said).toEqual([]);
  });
});

describe("where nothing is kept", () => {
  test("a replay says so instead of taking a word", async () => {
    const replay = { fromMs: nightMs, toMs: nightMs, speed: 60, paused: true, goingTo: null, note: null };
    const source = { ...fixtureSource(fleetView(14, { replay })), replay: () => {}, said: [] };
    const { shows, steps } = openedOn(source);
    await shows(/▸ ■ LM-03/);
    await steps(["w", "a replay keeps nothing"]);
    passTime(toldForMs);
    await steps([key.enter, "Esc back"], ["y", "a replay keeps nothing"]);
  });

  test("without a state folder it says so, and a demonstration says for how long it keeps", async () => {
    const { steps } = await started({ ...peopleSource(keptFleet({ collector: undefined })) });
    await steps(["w", "nothing is kept here, so nothing is said; ? tells why"]);
    cleanup();
    const shown = await started(peopleSource(keptFleet({ demonstration: { speed: 30 } })));
    await shown.line("acknowledge lost-prime", /acknowledged by Ann · kept\s+until the demonstration ends/);
  });
});

test("what came of it stays while others look around, and longer where the screen is only drawn anew", async () => {
  const { line, steps, resize, screen, type } = await started();
  const shelved = "LM-03: Ozone off shelved by Ann";
  await line("shelve ozone-off 30 min", shelved);
  await steps(
    [key.down, /▸ ▲ LM-07[\s\S]*Ozone off shelved/],
    [key.enter, /^ LM-07[\s\S]*Ozone off shelved/m],
  );
  passTime(toldForMs);
  resize(90);
  type("\u000c");
  await sleep(30);
  expect(screen()).toContain(shelved);
  await steps([key.esc, /▸ ▲ LM-07/]);
  expect(screen()).not.toContain(shelved);
});

test("the next word takes away what came of the one before", async () => {
  const { line, steps, screen } = await started();
  await line("shelve ozone-off 30 min", "Ozone off shelved");
  await steps(["w", "Ann says: _"], [key.esc, "q quits"]);
  expect(screen()).not.toContain("Ozone off shelved");
});

test("what came of it goes after a minute, as u does, and the keys are back", async () => {
  const { line, shows, screen, source } = await started();
  await line("shelve ozone-off 30 min", "· u undoes it");
  passTime(60_000);
  source.show({ ...source.current() });
  await shows(/\? (keys|explains)/);
  expect(screen()).not.toContain("undoes it");
});
