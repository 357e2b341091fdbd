import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { commonCausesOf } from "../../src/collector/common-causes.ts";
import type { FleetView, UnitView } from "../../src/collector/fleet-view.ts";
import type { HistoryEntry } from "../../src/collector/history-page.ts";
import { needingNow } from "../../src/dashboard/needing.ts";
import { dataSheet } from "../../src/dashboard/sheets/data-sheet.ts";
import { historySheet } from "../../src/dashboard/sheets/history-sheet.ts";
import { serviceSheet } from "../../src/dashboard/sheets/service-sheet.ts";
import type { Sheet } from "../../src/dashboard/sheets/sheet.ts";
import { laidOut } from "../../src/dashboard/sheets/sheet-layout.ts";
import { firstSheetPlace } from "../../src/dashboard/sheets/sheet-place.ts";
import { sheetScreen } from "../../src/dashboard/sheets/sheet-screen.ts";
import { standingSheet } from "../../src/dashboard/sheets/standing-sheet.ts";
import { unitLayout } from "../../src/dashboard/unit-screen.ts";
import { worstFirst } from "../../src/dashboard/urgency.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { drawn, widths } from "./draw.ts";
import { alarm, fleetView, lostPrime, nightMs, shownPast, unit } from "./fixture.ts";

const from = { screen: "fleet", unit: null, unitTop: 0 } as const;

function screen(sheet: Sheet, view: FleetView, { width = 80, height = 24, filter = "", chosen = 0 } = {}) {
  const site = (id: string) => view.units.find((each) => each.id === id)?.site ?? "";
  const place = { ...firstSheetPlace("standing", from), chosen };
  return sheetScreen(sheet, laidOut(sheet, filter, site, width), place, filter, view, 0, width, height);
}
const textOf = (sheet: Sheet, view: FleetView, size = {}) =>
  drawn(screen(sheet, view, { height: 200, ...size }), (size as { width?: number }).width).join("\n");

function withUnits(...units: readonly UnitView[]): FleetView {
  return fleetView(0, { units });
}

describe("standing alarms", () => {
  const said = { by: "Ann", atMs: nightMs - 5 * minute };
  const view = withUnits(
    unit("LM-01", {
      alarms: [
        alarm(),
        alarm({ alarm: "cavitation", state: "suppressed", by: "lost-prime", sinceMs: nightMs - 6 * minute }),
      ],
    }),
    unit("LM-02", {
      alarms: [
        alarm({
          alarm: "suction-restricted",
          priority: "medium",
          state: "active-acknowledged",
          acknowledged: { ...said, note: "strainer ordered" },
        }),
      ],
    }),
    unit("LM-03", {
      alarms: [alarm({ alarm: "ozone-off", priority: "medium", state: "shelved" })],
      setAside: [
        { alarm: "ozone-off", state: "shelved", ...said, untilMs: nightMs + 2 * hour },
        { alarm: "freeze-risk", state: "out-of-service", ...said },
      ],
    }),
    unit("LM-04", { alarms: [alarm({ alarm: "lost-prime", state: "suppressed", by: "service" })] }),
    unit("LM-05", { problem: "no log in /logs", problemPriority: "medium" }),
    unit("LM-06"),
  );
  const text = textOf(standingSheet(view, 80), view);

  test("stand by how soon they must be answered, a consequence under its cause", () => {
    expect(text).toContain("Standing alarms: 3 active at 3 of 6 units · 3 set aside");
    expect(text).toContain("as of 03:12:20");
    expect(text).toMatch(/Needed now \(1\)\n▸ ■ LM-01 {2}Lost prime for 12 min · not acknowledged/);
    expect(text).toMatch(
      /answer {2}now: fish depend on this unit.*\n.*\n +suppresses {2}Cavitation for 6 min/,
    );
    expect(text.match(/Cavitation/g)).toHaveLength(1);
  });

  test("tell who acknowledged them, until when they are shelved, what suppresses them, what is out of service", () => {
    expect(text).toMatch(/Needed soon \(2\)/);
    expect(text).toMatch(/LM-02 {2}Suction restricted .*acknowledged/);
    expect(text).toContain("acknowledged by Ann at 03:07: strainer ordered");
    expect(text).toMatch(/LM-05 {2}Cannot be read/);
    expect(text).toMatch(/Set aside \(3\)/);
    expect(text).toMatch(/LM-03 {2}Ozone off · shelved/);
    expect(text).toContain("shelved by Ann at 03:07 until 05:12");
    expect(text).toMatch(/LM-03 {2}Freeze risk · not standing +Heron Bend\n +out of service by Ann at 03:07/);
    expect(text).toMatch(/LM-04 {2}Lost prime .* · suppressed by service/);
  });

  test("that nobody has acknowledged stand out by word, not by colour alone", () => {
    expect(text.match(/not acknowledged/g)).toHaveLength(1);
  });

  test("that came together at a site stand under the one cause they likely have, each still by itself", () => {
    const silent = (id: string, afterMs: number) =>
      unit(id, {
        site: "Lindenmoor",
        alarms: [
          alarm({ alarm: "readings-stale", priority: "medium", sinceMs: nightMs - 2 * minute + afterMs }),
        ],
      });
    const units = [
      silent("LM-21", 0),
      silent("LM-22", 90_000),
      silent("LM-23", 20_000),
      silent("LM-24", 5_000),
      unit("OP-01", { alarms: [alarm({ alarm: "ozone-off", priority: "medium" })] }),
    ];
    const together = { ...withUnits(...units), ...commonCausesOf(units) };
    const shown = textOf(standingSheet(together, 120), together, { width: 120 });
    expect(shown).toMatch(
      /Needed soon \(5\)\n {3}4 units at Lindenmoor: Readings stale since 03:10 \(within 2 min\): one common cause likely: power or the\s+line\n/,
    );
    expect(shown.match(/▲ LM-2\d {2}Readings stale for/g)).toHaveLength(4);
    expect(shown.match(/Needed soon/g)).toHaveLength(1);
    expect(shown).toMatch(/each by itself: 1\n {2}▲ OP-01/);
    const filtered = textOf(standingSheet(together, 120), together, { width: 120, filter: "OP-01" });
    expect(filtered).toMatch(/Needed soon \(5\)\n {3}each by itself: 1\n▸ ▲ OP-01/);
  });

  test("whose logs cannot be read are told as one too, by when they were read last, or that they never were", () => {
    const lost = (id: string, lastReadingMs: number | null, unreadSinceMs: number) =>
      unit(id, {
        site: "Lindenmoor",
        problem: `no log in /logs`,
        lastReadingMs,
        unreadSinceMs,
        unreadHowSoon: "On the next route",
      });
    const units = [
      lost("LM-21", nightMs - hour, nightMs - hour),
      lost("LM-22", null, nightMs - hour + minute),
      lost("LM-23", nightMs - hour + 2 * minute, nightMs - hour + 2 * minute),
      lost("LM-24", nightMs - day, nightMs - day),
    ];
    const together = { ...withUnits(...units), ...commonCausesOf(units) };
    const shown = textOf(standingSheet(together, 120), together, { width: 120 });
    expect(shown).toMatch(
      /3 units at Lindenmoor: Cannot be read since 02:12 \(within 2 min\): one common cause likely: what brings their logs\s+here/,
    );
    expect(shown).toMatch(/LM-21 {2}Cannot be read for 60 min|LM-21 {2}Cannot be read for 1 h/);
    expect(shown).toMatch(
      /LM-22 {2}Cannot be read · never read +Lindenmoor\n +answer {2}On the next route\n +no log in/,
    );
    expect(shown).toMatch(/each by itself: 1\n {2}▲ LM-24 {2}Cannot be read for (24 h|1 d)/);
  });

  test("one that is over says since when, on the unit's page too, and not how soon it must be answered", () => {
    const over = alarm({ state: "returned-unacknowledged", returnedMs: nightMs - 4 * minute });
    const seen = withUnits(unit("LM-01", { alarms: [over] }));
    const listed = textOf(standingSheet(seen, 80), seen);
    expect(listed).toMatch(
      /At the next visit \(1\)\n.*Lost prime · returned to normal.*\n +over since 03:08: look/,
    );
    expect(listed).not.toContain("now: fish depend");
    const page = drawn([...unitLayout(seen.units[0], seen, shownPast(null), 0, true, 80, 24).lines], 80).join(
      "\n",
    );
    expect(page).toContain("over since 03:08: look what it was");
    expect(page).toContain("what to do");
    expect(page).not.toMatch(/how soon|now: fish/);
  });

  test("of none it is not said that all is well", () => {
    const quiet = withUnits(unit("LM-01"));
    expect(textOf(standingSheet(quiet, 80), quiet)).toContain("silence is no proof of safety");
  });
});

describe("service", () => {
  const works = (inspectionMs: number, cleaningMs: number) => [
    {
      work: "inspection",
      everyMs: 30 * day,
      dueMs: inspectionMs,
      because: "interval",
      lastMs: inspectionMs - 30 * day,
    } as const,
    { work: "cleaning", everyMs: 14 * day, dueMs: cleaningMs, because: "interval", lastMs: null } as const,
  ];
  const view = withUnits(
    unit("LM-01", {
      upkeep: {
        works: works(nightMs - 3 * day, nightMs + 5 * day),
        drift: {
          growth: 0.12,
          growthPerDay: 0.011,
          dueMs: nightMs + 12 * day,
          earliestMs: nightMs + 9 * day,
          latestMs: nightMs + 20 * day,
        },
      },
    }),
    unit("LM-02", {
      planned: [
        {
          unit: "LM-02",
          work: "planned stop",
          step: "begin",
          atMs: nightMs + day,
          untilMs: nightMs + 2 * day,
          by: "Ben",
          note: "pond drained",
        },
      ],
      begun: [{ unit: "LM-02", work: "cleaning", step: "begin", atMs: nightMs - hour, by: "Ann" }],
      upkeep: {
        works: [],
        drift: {
          growth: 0.02,
          growthPerDay: 0.001,
          dueMs: nightMs + 40 * day,
          earliestMs: nightMs + 20 * day,
          latestMs: Number.POSITIVE_INFINITY,
        },
      },
    }),
  );
  const text = textOf(serviceSheet(view, 80), view);

  test("stands by when it is due, with when it was last done", () => {
    expect(text).toMatch(
      /Overdue \(1\)\n.*○ +1 May +3 d over {2}LM-01 {2}inspection +every 30 d, last 1 Apr/,
    );
    expect(text).toMatch(
      /Due within 7 d \(1\)\n {4}9 May +in 5 d {2}LM-01 {2}cleaning +every 14 d, none on record/,
    );
  });

  test("counts days by the calendar of the fleet's zone, and hours within the last day", () => {
    const due = (dueMs: number): string => {
      const upkeep = { works: works(dueMs, nightMs + 90 * day) };
      const one = withUnits(unit("LM-01", { upkeep }));
      return textOf(serviceSheet(one, 80), one);
    };
    expect(due(nightMs + 29 * day - hour)).toMatch(/ 2 Jun +in 29 d {2}LM-01 {2}inspection/);
    expect(due(nightMs + 22 * hour + 20 * minute)).toMatch(/in 22 h {2}LM-01/);
  });

  test("of fouling gives the interval, and says where its end is open", () => {
    expect(text).toMatch(/16 May +in 12 d {2}LM-01 {2}cleaning/);
    expect(text).toContain("by fouling, between 13 May and 24 May; 12 % so far, 1.1");
    expect(text).toContain("from 24 May on, its end is open yet");
  });

  test("of fouling that comes first is told once, and without a trend as past its limit", () => {
    const upkeep = {
      works: [
        { work: "cleaning", everyMs: 14 * day, dueMs: nightMs - hour, because: "gas pressure", lastMs: null },
      ],
      drift: {
        ...{ growth: 0.31, growthPerDay: Number.NaN },
        ...{ dueMs: nightMs - hour, earliestMs: nightMs - hour, latestMs: nightMs - hour },
      },
    } as const;
    const fouled = withUnits(unit("LM-01", { upkeep }));
    const told = textOf(serviceSheet(fouled, 80), fouled);
    expect(told).toMatch(/Overdue \(1\)\n.*LM-01 {2}cleaning[\s\S]*by fouling, past its limit; 31 % so far/);
    expect(told).not.toContain("every 14 d");
  });

  test("tells what is under way and what stops are planned, by whom", () => {
    expect(text).toMatch(/Under way \(1\)\n▸◇ LM-02 {2}cleaning/);
    expect(text).toMatch(/Stops that are planned \(1\)\n ◇ LM-02 {2}stop from 5 May 03:12 until 6 May 03:12/);
    expect(text).toContain("planned by Ben: pond drained");
  });
});

describe("data quality", () => {
  const view = withUnits(
    unit("LM-01"),
    unit("LM-02", {
      intervalMs: 100,
      gaps: {
        longerThanMs: minute,
        spans: [
          [nightMs - 5 * hour, nightMs - 4 * hour],
          [nightMs - 2 * hour, nightMs - 110 * minute],
        ],
      },
      log: { ...lostPrime.log },
    }),
    unit("LM-03", {
      lastReadingMs: nightMs - 26 * hour,
      alarms: [
        alarm({
          alarm: "sensor-fault",
          priority: "low",
          message: "Gas pressure froze at 34.1 kPa while others moved. It is not trusted.",
        }),
      ],
    }),
  );
  const text = textOf(dataSheet(view, 80), view);

  test("begins with what is not to be trusted, with the reason", () => {
    expect(text).toContain("Data quality of the fleet: amiss at 2 of 3 units");
    expect(text).toMatch(
      /▸ ! LM-03 +3 May 01:12 +1 d 2 h +10 s +0 +0 +1\n +not trusted +▼ Gas pressure froze/,
    );
  });

  test("tells the newest gaps, late rows, and rejected rows with their reasons", () => {
    expect(text).toMatch(/· LM-02 +03:12:20 +0 s +100 ms +2 +1 +2 +1\n/);
    expect(text).toContain("longer than 1 min, newest first: 01:12 to 01:22 (10 min)");
    expect(text).toContain("LM-03.csv:8812 motor_current_a: '9,,1' is not a number");
  });

  test("tells what cannot be judged and why", () => {
    expect(text).toMatch(
      /What cannot be judged, and why\n +ozone in air: the log has no ozone-in-air column\n +at 3 units: LM-01, LM-02, LM-03/,
    );
  });
});

describe("alarm history", () => {
  const view = fleetView(14);
  const change = (n: number, over: Partial<HistoryEntry> = {}): HistoryEntry => ({
    timeMs: nightMs - n * hour,
    unit: "LM-03",
    isWord: false,
    n,
    alarm: "lost-prime",
    event: "raised",
    priority: "high",
    message:
      "Discharge pressure collapsed to 2.1 kPa and the motor ran unloaded at 4.1 A, far under its 9.2 A",
    ...over,
  });
  const shown = (entries: readonly HistoryEntry[] | null, over = {}) => ({
    entries,
    more: false,
    sinceMs: nightMs - day,
    untilMs: nightMs,
    problem: null,
    isReading: false,
    ...over,
  });
  const entries = [
    change(1, { event: "suppressed", cause: "service" }),
    change(2, {
      isWord: true,
      event: "shelved",
      priority: undefined,
      message: undefined,
      word: { by: "Ann", untilMs: nightMs + hour, note: "on my way" },
    }),
    change(30, { unit: "GONE-1" }),
  ];

  test("stands by day with the newest first; the chosen line is told in full", () => {
    const text = textOf(historySheet(shown(entries), 0, 1, view, 80), view);
    expect(text).toMatch(/length {2}8 h \[24 h\] 7 d/);
    expect(text).toContain("3 May 03:12 to 03:12");
    expect(text).toMatch(
      /Mon 4 May 2026\n▸02:12:20 {2}■ {2}LM-03 +suppressed +Lost prime\n +by service; Discharge/,
    );
    expect(text).toMatch(/01:12:20 +LM-03 +shelved +Lost prime: by Ann; until 04:12; on my w…/);
    expect(text).toMatch(/Sat 2 May 2026\n 21:12:20 {2}■ {2}GONE-1 +raised +Lost prime: Disch.*…/);
  });

  test("tells services among what people said: who began, until when, what for", () => {
    const begun = change(1, {
      isWord: true,
      alarm: "all",
      event: "planned",
      priority: undefined,
      message: undefined,
      word: { by: "Ann", untilMs: nightMs + hour, note: "dredging" },
      service: { work: "planned stop", fromMs: nightMs },
    });
    const lapse = { ...begun, timeMs: nightMs - 2 * hour, event: "ended", word: {} } as HistoryEntry;
    const text = textOf(
      historySheet(shown([begun, { ...lapse, service: { work: "cleaning" } }]), 0, 1, view, 100),
      view,
      { width: 100 },
    );
    expect(text).toMatch(/LM-03 +planned +Stop: by Ann; from 03:12; until 04:12; dredging/);
    expect(text).toMatch(/LM-03 +ended +Cleaning: by its time/);
  });

  test("opens only units that the fleet still has", () => {
    const items = historySheet(shown(entries), 0, 1, view, 80).groups.flatMap((group) => group.items);
    expect(items.map((item) => item.unit)).toEqual(["LM-03", "LM-03", null]);
  });

  test("says that it is being read, why it cannot be, and that nothing is kept", () => {
    expect(textOf(historySheet(shown(null), 0, 1, view, 80), view)).toContain("reading the alarm history");
    expect(textOf(historySheet(shown(entries, { isReading: true }), 0, 1, view, 80), view)).toContain(
      "reading …",
    );
    const broken = shown([], { problem: "main.db: it is damaged" });
    expect(textOf(historySheet(broken, 0, 1, view, 80), view)).toContain(
      "cannot be read: main.db: it is damaged",
    );
    expect(textOf(historySheet(shown([]), 0, 1, view, 80), view)).toContain("nothing is kept of this time");
  });
});

describe("each of them", () => {
  const sizes = [
    [60, 15],
    [80, 24],
    [120, 40],
    [300, 100],
  ] as const;
  const sheets = (view: FleetView, width: number) => [
    standingSheet(view, width),
    serviceSheet(view, width),
    dataSheet(view, width),
  ];

  test("fills the screen exactly and never runs over its edge, whatever a unit is called", () => {
    const odd = [
      "深い池",
      "🐟-1",
      "\u202eLM\u202c",
      "a\u200bb",
      "\u001b[31mred",
      "e\u0301",
      "LM-0123456789-0123456789",
    ];
    const name = fc.oneof(
      fc.constantFrom(...odd),
      fc.string({ unit: "grapheme", minLength: 1, maxLength: 20 }),
    );
    fc.assert(
      fc.property(name, name, fc.constantFrom(...sizes), (id, site, [width, height]) => {
        const view = withUnits(unit(id, { site, alarms: lostPrime.alarms, problem: id }), {
          ...lostPrime,
          site,
        });
        for (const sheet of sheets(view, width)) {
          const rows = screen(sheet, view, { width, height });
          expect(rows).toHaveLength(height);
          for (const row of drawn(rows, width)) expect(row).not.toMatch(/[\p{Cc}\p{Cf}]/u);
          expect(Math.max(...widths(rows.slice(0, -2)))).toBeLessThanOrEqual(width);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("keeps the chosen item in sight and says how many lie out of it", () => {
    const view = fleetView(60);
    for (const chosen of [0, 20, 59]) {
      const text = drawn(screen(dataSheet(view, 80), view, { chosen })).join("\n");
      expect(text).toContain("▸");
      expect(text).toMatch(/\d+ (above|below)/);
    }
  });

  test("moves nothing aside by marking what is chosen", () => {
    const view = fleetView(3);
    const plain = screen(dataSheet(view, 80), view, { height: 40, chosen: 0 });
    const last = screen(dataSheet(view, 80), view, { height: 40, chosen: 3 });
    const bare = (rows: typeof plain) => drawn(rows).map((row) => row.replace(/^./, " "));
    expect(drawn(last).join("\n")).toMatch(/▸ +ozone in air: the log/);
    expect(bare(last)).toEqual(bare(plain));
  });

  test("shows only what holds the words of the filter, in its text or in its unit's site", () => {
    const view = fleetView(14);
    const text = textOf(dataSheet(view, 80), view, { filter: "otter" });
    expect(text).toContain("only 'otter'");
    expect(text).toMatch(/▸ . LM-0/);
    expect(text).not.toContain("LM-07");
    expect(text).toMatch(/\d+ filtered out/);
    expect(textOf(dataSheet(view, 80), view, { filter: "zzz" })).toContain("nothing here fits 'zzz'");
  });
});

test("a ground-fault device that did not trip stands first in the service view and on the fleet's screen, as needed now", () => {
  const found = { noTrip: { atMs: nightMs - 3 * hour, by: "Ann" } };
  const view = withUnits(unit("LM-01"), unit("LM-02", { found }));
  const sheet = serviceSheet(view, 80);
  expect(textOf(sheet, view)).toMatch(/To be put right now \(1\)\s+.*LM-02 {2}ground-fault device/);
  expect(textOf(sheet, view)).toMatch(/did not trip when tested \(00:12, by Ann\)/);
  expect(worstFirst(view).map(({ unit: { id }, urgency }) => `${id} ${urgency}`)).toEqual([
    "LM-02 now",
    "LM-01 quiet",
  ]);
  const lines = needingNow(unit("LM-02", { found }), view, 80).map((pieces) =>
    pieces.map(({ text }) => text).join(""),
  );
  expect(lines.join(" ")).toMatch(/Ground-fault device: did not trip/);
});
