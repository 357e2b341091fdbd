import { cleanup } from "ink-testing-library";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { Said } from "../../src/collector/keeping.ts";
import type { FleetSource } from "../../src/dashboard/source.ts";
import { alarm, fixtureSource, fleetView, lostPrime, nightMs } from "./fixture.ts";
import { key, opened, openedOn } from "./opened.tsx";
import { keptFleet, peopleSource } from "./people.ts";

afterEach(cleanup);

describe("acknowledging", () => {
  test("y on a unit's screen says that this person saw each of its raisings, and what came of it", async () => {
    const view = {
      ...fleetView(14),
      collector: { pid: 1, host: "here", sinceMs: nightMs, kind: "watch" as const },
    };
    const said: Said[] = [];
    const { shows, steps, type } = opened(view, async (words) => {
      said.push(...words);
      return said.length > 2 ? "the disk is full" : null;
    });
    await shows(/▸ ■ LM-03/);
    type("y");
    await steps(["\r", "y acknowledges"], ["y", "LM-03: 2 alarms acknowledged by Ann"]);
    const { alarms } = lostPrime;
    expect(said).toMatchObject(
      alarms.map(({ alarm, raisedMs }) => ({
        kind: "word",
        word: { unit: "LM-03", alarm, action: "acknowledge", by: "Ann", raisedMs },
      })),
    );
    await steps(["y", "not kept, or not all of it: the disk is full"]);
  });

  test("y says nothing of an alarm that is not in sight, and tells how many there are", async () => {
    const view = keptFleet();
    const units = view.units.map((each) =>
      each.id === "LM-03"
        ? { ...each, alarms: [...each.alarms, alarm({ alarm: "overheating", priority: "medium" })] }
        : each,
    );
    const source = peopleSource({ ...view, units });
    const { shows, steps } = openedOn(source);
    const saidOf = () => source.said.map((one) => one.kind === "word" && one.word.alarm);
    await shows(/▸ ■ LM-03/);
    await steps(
      ["\r", "y acknowledges 2 of 3"],
      [
        "y",
        /LM-03: 2 alarms acknowledged by Ann; 1 alarm waits out of sight; y acknowledges what\s+is shown/,
      ],
    );
    expect(saidOf()).toEqual(["lost-prime", "ozone-off"]);
    await shows("acknowledged by Ann at 03:12");
    await steps([key.end, "rows above"], ["y", "LM-03: 1 alarm waits out of sight"]);
    expect(saidOf()).toHaveLength(2);
    await steps(
      [key.home, /Lost prime for 12 min/],
      [key.pageDown, / medium {2}Overheating/],
      ["y", "LM-03: Overheating acknowledged by Ann"],
    );
    expect(saidOf()).toEqual(["lost-prime", "ozone-off", "overheating"]);
  });

  test("nothing is offered where nobody keeps anything", async () => {
    const { shows, screen, steps } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(["\r", "Esc back"]);
    expect(screen()).not.toContain("acknowledges");
  });
});

describe("in the fleet", () => {
  test("the worst unit is chosen until a person chooses another", async () => {
    const { shows, steps } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(
      [key.down, /▸ ▲ LM-07/],
      [key.down, /▸ ▼ LM-09/],
      [key.up, /▸ ▲ LM-07/],
      [key.home, /▸ ■ LM-03/],
      [key.end, /▸ LM-14/],
    );
  });

  test("the chosen unit stays chosen when a worse one comes above it", async () => {
    const view = fleetView(14);
    const { source, shows, steps } = opened(view);
    await shows(/▸ ■ LM-03/);
    await steps([key.down, /▸ ▲ LM-07/]);
    const units = view.units.map((each) =>
      each.id === "LM-05" ? { ...each, alarms: lostPrime.alarms } : each,
    );
    source.show({ ...view, clockMs: nightMs + 10_000, units });
    await shows("■ 2  now");
    await shows(/▸ ▲ LM-07/);
  });

  test("keys that come faster than they are read are all obeyed", async () => {
    const { shows, type } = opened();
    await shows("LM-03");
    type(key.down.repeat(2));
    await shows(/▸ ▼ LM-09/);
  });

  test("on a fleet without units, keys do no harm", async () => {
    const { shows, steps } = opened(fleetView(0));
    await shows("no unit in the fleet file");
    await steps([key.down, "no unit"], ["\r", "no unit"], ["?", "What tarnwatch is"]);
  });
});

describe("on a unit's screen", () => {
  test("Enter opens it, left and right go through the fleet, Esc and Backspace come back to it", async () => {
    const { shows, steps } = opened();
    await shows("▸ ■ LM-03");
    await steps(
      ["\r", /^ LM-03 · Otter Pool/m],
      [key.right, /^ LM-07 · Mill Reach/m],
      [key.esc, /▸ ▲ LM-07/],
      ["\r", /^ LM-07/m],
      [key.left, /^ LM-03/m],
      ["\u007f", /▸ ■ LM-03/],
    );
  });

  test("+ shows less time, - shows more, and both stop at their ends", async () => {
    const { shows, steps } = opened();
    await shows("LM-03");
    await steps(
      ["\r", "LM-03 · "],
      ["\t", /Readings against/],
      ["\t", "The last 4 hours"],
      ["+", "The last 2 hours"],
      ["-", "The last 4 hours"],
    );
    await steps(["----------", "The last 90 days"], ["+".repeat(20), "The last 15 min"]);
  });

  test(", and . go through the past, m reads off at a mark that the arrows move, n is now again", async () => {
    const { screen, shows, steps } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(
      ["\r", "LM-03 · "],
      [",", /4 hours to 01:1\d/],
      ["m", /mark at 3 May 23:13:\d\d/],
      [key.left, /mark at 3 May 23:10:\d\d/],
    );
    expect(screen()).toContain("left, right move the mark");
    expect(screen()).toMatch(/motor temper…[^\n]*\n 56\.1 to 56\.6 °C/);
    await steps(
      [key.esc, /4 hours to 01:1\d(?! · mark)/],
      [key.right, /LM-0[^3] · /],
      ["n", "The last 4 hours"],
    );
  });

  test("a key draws at once, while the past that it asks for is still on its way", async () => {
    const view = fleetView(14);
    const { history, ...source } = fixtureSource(view);
    let asked = 0;
    const slow: FleetSource = {
      ...source,
      history: (...wanted) => (asked++ === 0 ? history(...wanted) : new Promise(() => {})),
    };
    const { screen, shows, steps } = openedOn(slow);
    await shows(/▸ ■ LM-03/);
    await steps(["\r", "LM-03 · "], ["-", "The last 8 hours"]);
    // The later half of the time is known, and stays.
    const [, strip = ""] = /\n motor current +[\d.]+ .([^\n]*)/.exec(screen()) ?? [];
    expect(strip.slice(0, 30).replaceAll("⠁", "").trim()).toBe("");
    expect(strip.slice(40).trim()).not.toBe("");
    expect(asked).toBeGreaterThan(1);
  });
});

describe("everywhere", () => {
  test("? explains every key and mark, and says that tarnwatch stops no pump", async () => {
    const { screen, shows, steps } = opened();
    await shows("LM-03");
    await steps(["?", "It stops no pump and no ozone cell"]);
    expect(screen()).toContain("Silence is no proof of safety");
    await steps([key.end, /━ · ×|Order/], [key.esc, "▸ ■ LM-03"]);
  });

  test("a window that is too small is filled to its last row, so that a frame drawn anew stands where it stood", async () => {
    const { screen, shows, resize } = opened();
    await shows("LM-03");
    const rows = screen().split("\n").length;
    resize(40);
    await shows("make the window larger");
    expect(screen().split("\n")).toHaveLength(rows);
  });

  test("q quits, Ctrl-C interrupts, Ctrl-Z sets aside, Ctrl-L draws anew", async () => {
    const { ends, shows, type } = opened();
    await shows("LM-03");
    type("\u001a");
    await vi.waitFor(() => expect(ends.onSetAside).toHaveBeenCalledOnce());
    type("\u000c");
    await vi.waitFor(() => expect(ends.onRedraw).toHaveBeenCalledOnce());
    type("\u0003");
    await vi.waitFor(() => expect(ends.onEnd).toHaveBeenCalledWith("SIGINT"));
    type("q");
    await vi.waitFor(() => expect(ends.onEnd).toHaveBeenCalledWith("quit"));
  });

  test("views that come many times a second are drawn once a second", async () => {
    const view = fleetView(14);
    const { source, screen, shows } = opened(view);
    await shows("03:12:20 CDT");
    const drawnTimes = new Set<string>();
    const untilMs = performance.now() + 1500;
    for (let i = 1; performance.now() < untilMs; i++) {
      source.show({ ...view, clockMs: nightMs + i * 1000 });
      drawnTimes.add(/\d\d:\d\d:\d\d/.exec(screen())?.[0] ?? "");
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    expect(drawnTimes.size).toBeGreaterThan(1);
    expect(drawnTimes.size).toBeLessThanOrEqual(4);
  });
});
