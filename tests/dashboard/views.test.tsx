import { cleanup } from "ink-testing-library";
import { afterEach, describe, expect, test } from "vitest";
import { type HistoryEntry, type HistoryWanted, pageOf } from "../../src/collector/history-page.ts";
import { hour } from "../../src/terms/time.ts";
import { fixtureSource, fleetView, nightMs } from "./fixture.ts";
import { key, opened, openedOn } from "./opened.tsx";

afterEach(cleanup);

function past(count: number): HistoryEntry[] {
  return Array.from({ length: count }, (_, n) => ({
    timeMs: nightMs - (n + 1) * 60_000,
    unit: n % 2 === 0 ? "LM-03" : "LM-07",
    isWord: false,
    n: count - n,
    alarm: n % 2 === 0 ? ("lost-prime" as const) : ("ozone-off" as const),
    event: "raised" as const,
    priority: "high" as const,
    message: `told as number ${n}`,
  }));
}

function withPast(entries: readonly HistoryEntry[]) {
  const asked: HistoryWanted[] = [];
  const source = {
    ...fixtureSource(fleetView(14)),
    alarmHistory: async (wanted: HistoryWanted) => {
      asked.push(wanted);
      return { value: pageOf(entries, wanted) };
    },
  };
  return { asked, ...openedOn(source) };
}

describe("the views of the fleet", () => {
  test("each has its digit, from any of them and from a unit; Esc goes back to where it was opened", async () => {
    const { shows, steps } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(
      ["2", /Standing alarms: 5 active at 4 of 14 units/],
      ["5", /Data quality of the fleet/],
      ["4", /Service of the fleet/],
      [key.esc, /▸ ■ LM-03/],
      ["\r", /LM-03 · Otter Pool/],
      ["2", /Standing alarms/],
      [key.esc, /LM-03 · Otter Pool/],
      ["5", /Data quality/],
      ["1", /▸ ■ LM-03/],
    );
  });

  test("Enter opens the chosen unit, and Esc comes back to the same place in the list", async () => {
    const { shows, steps } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(
      ["2", /▸ ■ LM-03/],
      [key.down, /▸ ▲ LM-03 +Ozone off/],
      [key.down, /▸ ▲ LM-07/],
      ["\r", /LM-07 · Mill Reach/],
      [key.right, /LM-09 · Mill Reach/],
      [key.esc, /▸ ▲ LM-07/],
      [key.home, /▸ ■ LM-03/],
      [key.end, /▸ ○ +LM-11/],
      [key.esc, /needed:/],
    );
  });

  test("keys of other screens do nothing there, and the alarm performance gives way", async () => {
    const { shows, steps, screen } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(
      ["2", /Standing alarms/],
      ["y", /Standing alarms/],
      ["o", /Standing alarms/],
      ["\t", /Standing/],
    );
    await steps(["?", /arrows up, down/], [key.esc, /Standing alarms/], [key.esc, /needed:/]);
    expect(screen()).not.toContain("by site");
  });
});

describe("the filter", () => {
  test("narrows as it is typed, holds for every view, and Esc shows all before it goes back", async () => {
    const { shows, steps, screen } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(["/", /only _/], ["mill", /only mill_/]);
    expect(screen()).toMatch(/▸ ▲ LM-07/);
    await steps([key.down, /▸ ▼ LM-09/], ["\r", /only 'mill': \d of 14 units/], ["2", /only 'mill' · as of/]);
    expect(screen()).not.toMatch(/LM-03 {2}Lost prime/);
    // Whatever is looked at: who is needed now is told.
    expect(screen()).toContain("■ 1  now: LM-03 Lost prime");
    await steps([key.esc, /■ LM-03/], [key.esc, /needed:.*/]);
    expect(screen()).not.toContain("only");
  });

  test("is typed and not obeyed: q ends nothing, and Esc while typing shows all", async () => {
    const { shows, steps, ends } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(
      ["/", /only _/],
      ["q", /only q_/],
      ["\u007f", /only _/],
      ["lm-07", /▸ ▲ LM-07/],
      [key.esc, /▸ ■ LM-03|▸ ▲ LM-07/],
    );
    expect(ends.onEnd).not.toHaveBeenCalled();
    await shows(/■ LM-03/);
  });

  test("does not take a person away from the unit that is looked at", async () => {
    const view = fleetView(14);
    const { source, shows, steps } = opened(view);
    await shows(/▸ ■ LM-03/);
    await steps(["/prime\r", /only 'prime'/], ["\r", /LM-03 · Otter Pool/]);
    const units = view.units.map((each) => (each.id === "LM-03" ? { ...each, alarms: [] } : each));
    source.show({ ...view, units, clockMs: nightMs + 10_000 });
    await shows(/none; silence is no proof of safety/);
    await shows(/LM-03 · Otter Pool/);
  });
});

describe("o", () => {
  test("goes from worst first to by site, by name, and back", async () => {
    const { shows, steps } = opened();
    await shows(/▸ ■ LM-03/);
    await steps(["o", / by site\n/], ["o", / by name\n/]);
    await steps([key.down, /▸ LM-02/], ["o", /\d quiet +current/]);
    await shows(/▸ LM-02/);
  });
});

describe("the alarm history", () => {
  test("is asked for page by page as a person goes down, for the time that is chosen", async () => {
    const { asked, shows, steps } = withPast(past(450));
    await shows(/▸ ■ LM-03/);
    await steps(["3", /told as number 0/]);
    expect(asked.at(-1)).toMatchObject({ sinceMs: nightMs - 24 * hour, untilMs: nightMs, before: null });
    await steps([key.end, /told as number 199/]);
    await shows(/▸.*\n.*told as number 199|▸.*told as number 199/);
    await steps([key.end, /told as number 399/], [key.end, /told as number 449/]);
    expect(asked.at(-1)?.before).toMatchObject({ timeMs: past(450)[399].timeMs });
    await steps(["+", /\[8 h\]/], [key.left, /19:12|3 May/]);
    await shows(/\[8 h\]/);
    expect(asked.at(-1)).toMatchObject({ sinceMs: nightMs - 16 * hour, untilMs: nightMs - 8 * hour });
  });

  test("is filtered where it is kept, so that pages are full of what is wanted", async () => {
    const { asked, shows, steps, screen } = withPast(past(450));
    await shows(/▸ ■ LM-03/);
    await steps(["3", /told as number 0/], ["/ozone", /only ozone_/]);
    await shows(/Ozone off: told as number 1\n.*Ozone off: told as number 3\n/);
    expect(asked.at(-1)?.filter).toBe("ozone");
    expect(screen()).not.toMatch(/raised +Lost prime/);
  });

  test("says why it cannot be read, and is not offered where there is none", async () => {
    const source = {
      ...fixtureSource(fleetView(14)),
      alarmHistory: async () => ({ problem: "main.db: it is damaged" }),
    };
    const { shows, steps } = openedOn(source);
    await shows(/▸ ■ LM-03/);
    await steps(["3", /cannot be read: main\.db: it is damaged/]);
    cleanup();
    const none = opened();
    await none.shows(/▸ ■ LM-03/);
    await none.steps(["3", /▸ ■ LM-03/]);
  });
});
