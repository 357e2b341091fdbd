import { describe, expect, it, test } from "vitest";
import type { Heard } from "../../src/assess/heard.ts";
import type { FleetView, UnitView } from "../../src/collector/fleet-view.ts";
import { takeBack, withLapses } from "../../src/fleet/services.ts";
import type { Episode } from "../../src/report/episodes.ts";
import { handoverOf } from "../../src/report/handover.ts";
import type { HandoverInput, OnRecord } from "../../src/report/handover-input.ts";
import { handoverMarkdown, handoverText } from "../../src/report/handover-text.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { alarm, nightMs, unit } from "../dashboard/fixture.ts";

const sinceMs = nightMs - 8 * hour;

function viewOf(units: readonly UnitView[]): FleetView {
  return {
    version: 1,
    fleet: "Larkmoor ponds",
    timezone: "America/Chicago",
    display: "si",
    clockMs: nightMs,
    stateFolder: "/state",
    notices: [],
    units,
  };
}

function handover(units: readonly UnitView[], more: Partial<HandoverInput> = {}) {
  return handoverOf({
    view: viewOf(units),
    sinceMs,
    seen: null,
    episodes: [],
    heard: [],
    services: [],
    ...more,
  });
}

function section(found: ReturnType<typeof handover>, title: string): readonly string[] {
  return found.sections.find((one) => one.title === title)?.items ?? [];
}

function episode(over: Partial<Episode>): Episode {
  return {
    unit: "LM-01",
    alarm: "suction-air",
    sinceMs: sinceMs + hour,
    raisedMs: sinceMs + hour + minute,
    endMs: sinceMs + 2 * hour,
    priority: "medium",
    message: "",
    seq: 1,
    ...over,
  };
}

const heard = (over: Partial<Heard>): Heard => ({
  timeMs: nightMs - hour,
  unit: "LM-01",
  alarm: "lost-prime",
  event: "acknowledged",
  by: "Ann",
  row: 1,
  ...over,
});

const service = (over: Partial<OnRecord>): OnRecord => ({
  unit: "LM-01",
  work: "cleaning",
  step: "begin",
  atMs: nightMs - 3 * hour,
  saidMs: nightMs - 3 * hour,
  by: "Ann",
  ...over,
});

describe("what is wrong now", () => {
  it("leads with what is worst, with who has acknowledged it; planned work is to watch, not wrong", () => {
    const prompt = alarm({ alarm: "service-overdue", priority: "prompt", message: "Cleaning is overdue." });
    const seen = { by: "Ben", atMs: nightMs - 5 * minute, note: "on my way" };
    const found = handover([
      unit("LM-02", { alarms: [alarm({ alarm: "ozone-off", priority: "medium" }), prompt] }),
      unit("LM-01", { alarms: [alarm({ state: "active-acknowledged", acknowledged: seen })] }),
    ]);
    const [first, second, ...others] = section(found, "Wrong now");
    expect(first).toMatch(
      /^HIGH LM-01, Heron Bend: Lost prime for 12 min, acknowledged by Ben at 4 May 03:07: on my way\./,
    );
    expect(second).toMatch(/^MEDIUM LM-02, Heron Bend: Ozone off for 12 min, not acknowledged\./);
    expect(others).toEqual([]);
    expect(section(found, "To watch")).toEqual(["LM-02, Heron Bend: Service overdue: Cleaning is overdue."]);
  });

  it("names a unit that cannot be read, and one that waits to be acknowledged", () => {
    const back = alarm({ state: "returned-unacknowledged", returnedMs: nightMs - hour });
    const found = handover([unit("LM-01", { problem: "no log there" }), unit("LM-02", { alarms: [back] })]);
    expect(section(found, "Wrong now")).toEqual([
      "CANNOT BE READ LM-01, Heron Bend: no log there",
      "HIGH LM-02, Heron Bend: Lost prime: back to normal at 4 May 02:12; nobody has acknowledged it.",
    ]);
  });
});

it("what is to be said word for word of several units is said once, with their places", () => {
  const stale = alarm({ alarm: "readings-stale", priority: "medium", message: "No reading for 2 h." });
  const found = handover([
    unit("LM-01", { alarms: [stale] }),
    unit("LM-02", { alarms: [stale] }),
    unit("LM-03", { alarms: [{ ...stale, message: "No reading for 3 h." }] }),
    unit("LM-04", { alarms: [stale], site: "Otter Pool" }),
  ]);
  const [together, alone, ...others] = section(found, "Wrong now");
  expect(together).toMatch(
    /^MEDIUM LM-01, LM-02, Heron Bend; LM-04, Otter Pool: Readings stale for 12 min, not ack/,
  );
  expect(alone).toMatch(/^MEDIUM LM-03, Heron Bend: Readings stale/);
  expect(others).toEqual([]);
});

describe("what came and went", () => {
  it("is what is over since then, gathered by alarm; not what stands, nor what nobody was told of", () => {
    const found = handover([unit("LM-01")], {
      episodes: [
        episode({}),
        episode({ sinceMs: sinceMs + 3 * hour, endMs: sinceMs + 3.5 * hour }),
        episode({ alarm: "overheating", endMs: null }),
        episode({ alarm: "cavitation", raisedMs: null }),
        episode({ alarm: "ozone-off", endMs: sinceMs - 1 }),
      ],
    });
    expect(section(found, "Came and went")).toEqual([
      "MEDIUM LM-01, Heron Bend: Suction air, 2 times between 3 May 20:12 – 22:42, the longest 1 h",
    ]);
  });

  it("does not call over what stood until its settings changed", () => {
    const changed = episode({ endMs: nightMs - hour, endedBySettings: true });
    const [said] = section(handover([unit("LM-01")], { episodes: [changed] }), "Came and went");
    expect(said).toMatch(/; settings changed at 4 May 02:12, it stood until then$/);
  });

  it("takes in what a log brought late, from before the last handover, and that only once", () => {
    const late = episode({
      sinceMs: sinceMs - 5 * hour,
      raisedMs: sinceMs - 5 * hour,
      endMs: sinceMs - 4 * hour,
      seq: 7,
    });
    const went = (seen: number) =>
      section(
        handover([unit("LM-01")], { episodes: [late], seen: new Map([["LM-01", seen]]) }),
        "Came and went",
      );
    expect(went(6)).toHaveLength(1);
    expect(went(7)).toHaveLength(0);
  });
});

it("tells by time what was said and done and by whom, a work as one line", () => {
  const found = handover([unit("LM-01")], {
    heard: [
      heard({ note: "farmer called" }),
      heard({ event: "unshelved", by: undefined, timeMs: nightMs - 2 * hour } as Partial<Heard>),
      heard({ timeMs: sinceMs - 1 }),
    ],
    services: withLapses([
      service({ note: "strainer full" }),
      service({ step: "end", atMs: nightMs - 2.5 * hour, saidMs: nightMs - 2.5 * hour, by: "Ben" }),
      service({ work: "inspection", step: "done", atMs: nightMs - 3 * day, saidMs: nightMs - minute }),
    ]),
  });
  expect(section(found, "Said and done")).toEqual([
    "4 May 00:12 – 00:42 LM-01, Heron Bend: cleaning done by Ann, Ben: strainer full",
    "4 May 01:12 LM-01, Heron Bend: Lost prime unshelved: its time is over",
    "4 May 02:12 LM-01, Heron Bend: Lost prime acknowledged by Ann: farmer called",
    "1 May 03:12 LM-01, Heron Bend: inspection done by Ann",
  ]);
});

it("tells what was said of an alarm over and over as one line, with how often, the first and the last", () => {
  const over = Array.from({ length: 14 }, (_, n) => heard({ timeMs: nightMs - 2 * hour + n * minute }));
  const found = handover([unit("LM-01")], {
    heard: [...over, heard({ by: "Ben", timeMs: nightMs - 119 * minute })].toSorted(
      (a, b) => a.timeMs - b.timeMs,
    ),
  });
  expect(section(found, "Said and done")).toEqual([
    "4 May 01:13 LM-01, Heron Bend: Lost prime acknowledged by Ben",
    "4 May 01:12 LM-01, Heron Bend: Lost prime acknowledged by Ann, 14 times, last at 4 May 01:25",
  ]);
});

it("tells of a work what was found at its begin and its end, and minds a ground-fault device that did not trip", () => {
  const begun = service({ visit: { readings: { dissolvedOxygenMgL: 3.2 } }, untilMs: nightMs });
  const ended = service({ step: "end", atMs: nightMs - 2.5 * hour, saidMs: nightMs - 2.5 * hour });
  const told = (groundFault: "tripped" | "did not trip") =>
    section(
      handover([unit("LM-01")], {
        services: [begun, { ...ended, visit: { groundFault, parts: ["check valve"], photos: ["a.jpg"] } }],
      }),
      "Said and done",
    );
  const found = (word: string) =>
    `4 May 00:12 – 00:42 LM-01, Heron Bend: cleaning done by Ann; dissolved oxygen 3.2 mg/L; ground-fault test: the device ${word}; parts: check valve`;
  expect(told("tripped")).toEqual([found("tripped")]);
  expect(told("did not trip")).toEqual([
    `${found("did not trip")}. Mind: a ground-fault device that does not trip protects nobody; leave the unit unplugged and call a licensed electrician`,
  ]);
});

it("tells what was found at a work once, also where it is begun anew or taken back", () => {
  const visit = { readings: { dissolvedOxygenMgL: 7.4 } };
  const begun = service({ visit, untilMs: nightMs + hour });
  for (const then of [takeBack(begun, nightMs - 2 * hour), { ...begun, atMs: nightMs - 2 * hour }]) {
    const said = section(handover([unit("LM-01")], { services: [begun, then] }), "Said and done");
    const first = said.find((text) => !text.includes("under way")) ?? "";
    expect(first.split("7.4 mg/L")).toHaveLength(2);
  }
});

it("tells what is set aside and until when, and whether its condition stands behind it", () => {
  const aside = { by: "Ann", atMs: nightMs - hour } as const;
  const found = handover([
    unit("LM-01", {
      alarms: [alarm({ state: "shelved" })],
      setAside: [
        { ...aside, alarm: "lost-prime", state: "shelved", untilMs: nightMs + hour, note: "Ben watches" },
        { ...aside, alarm: "sensor-fault", state: "out-of-service" },
      ],
    }),
  ]);
  expect(section(found, "Shelved")).toEqual([
    "LM-01, Heron Bend: Lost prime until 4 May 04:12, by Ann; its condition stands now: Ben watches",
  ]);
  expect(section(found, "Out of service")).toEqual([
    "LM-01, Heron Bend: Sensor fault since 4 May 02:12, by Ann",
  ]);
});

it("tells what is under way, planned and not taken back, due within a week, silent, and asked of baselines", () => {
  const stop = service({
    work: "planned stop",
    atMs: nightMs + day,
    untilMs: nightMs + 1.5 * day,
    note: "drained",
  });
  const other = { ...stop, atMs: nightMs + 2 * day, untilMs: nightMs + 3 * day };
  const due = (work: "inspection" | "cleaning", dueMs: number, because: "interval" | "gas pressure") => ({
    work,
    dueMs,
    because,
    everyMs: 30 * day,
    lastMs: null,
  });
  const works = [
    due("cleaning", nightMs + 5 * day, "interval"),
    due("inspection", nightMs + 65 * day, "interval"),
    due("inspection", nightMs - day, "interval"),
    due("cleaning", nightMs + 6 * day, "gas pressure"),
  ];
  const found = handover(
    [
      unit("LM-01", {
        begun: [service({ untilMs: nightMs + 5 * hour })],
        baseline: "provisional",
        upkeep: { works },
      }),
      unit("LM-02", { state: "no readings", lastReadingMs: nightMs - 2 * hour, baselineAsks: true }),
    ],
    {
      services: [
        stop,
        other,
        { ...other, untilMs: other.atMs + 1 },
        { ...other, unit: "LM-02", note: "weir" },
        { ...other, unit: "LM-02", untilMs: other.atMs + 1 },
        { ...other, unit: "LM-02", note: "weir" },
      ],
    },
  );
  expect(section(found, "Under service now")).toEqual([
    "LM-01, Heron Bend: cleaning since 4 May 00:12, ends by itself at 4 May 08:12, by Ann",
  ]);
  expect(section(found, "Planned stops")).toEqual([
    "LM-01, Heron Bend: from 5 May 03:12 until 5 May 15:12, by Ann: drained",
    "LM-02, Heron Bend: from 6 May 03:12 until 7 May 03:12, by Ann: weir",
  ]);
  expect(section(found, "To watch")).toEqual([
    "LM-01, Heron Bend: cleaning due on 9 May, in 5 d",
    "LM-02, Heron Bend: no readings, the last at 4 May 01:12",
    "Baselines that ask for an answer (`check` says why): LM-02",
    "Provisional baselines, that nobody has confirmed: LM-01",
  ]);
});

describe("a shift in which nothing happened", () => {
  it("is quiet, also where something stands from before", () => {
    const stands = episode({ endMs: null, sinceMs: sinceMs - hour, raisedMs: sinceMs - hour });
    expect(handover([unit("LM-01")], { episodes: [stands] })).toEqual({ isQuiet: true, sections: [] });
  });

  it.each<[string, Partial<HandoverInput>]>([
    ["an alarm that was raised and stands", { episodes: [episode({ endMs: null })] }],
    ["an alarm that went", { episodes: [episode({})] }],
    ["a word", { heard: [heard({})] }],
    ["a service", { services: [service({})] }],
  ])("is not, with %s", (_, more) => {
    expect(handover([unit("LM-01")], more).isQuiet).toBe(false);
  });
});

describe("the written handover", () => {
  const nasty = heard({ note: `<b>*bold*</b> [x](http://x) \u001b[2J ${"word ".repeat(40)}` });
  const found = handover([unit("LM-01")], { heard: [nasty] });
  const head = { title: "Larkmoor ponds: handover", lines: ["1. May"] };

  it("fits 80 columns, and no control character comes through", () => {
    const lines = handoverText(head, found);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(lines.join("")).not.toContain("\u001b");
    expect(lines.at(-2)).toMatch(/^Silence is no proof of safety/);
  });

  it("is Markdown in which what people wrote is nothing but text", () => {
    const text = handoverMarkdown(head, found).join("\n");
    expect(text).toContain("\\<b\\>\\*bold\\*\\</b\\> \\[x\\](http://x)");
    expect(text).toContain("\n1\\. May\n");
    expect(text).not.toContain("\u001b");
  });
});

test("a work that ended by itself names who began it, not who would have to say that it was done", () => {
  const begun = service({ work: "repair", by: "Ann", atMs: nightMs - 4 * hour, untilMs: nightMs - 3 * hour });
  const said = section(handover([unit("LM-01")], { services: withLapses([begun]) }), "Said and done");
  expect(said).toEqual([
    expect.stringMatching(/: repair, begun by Ann, ended by itself; nobody has said that it was done$/),
  ]);
});
