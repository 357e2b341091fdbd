import { describe, expect, test } from "vitest";
import type { FleetView } from "../../src/collector/fleet-view.ts";
import { statusLines } from "../../src/commands/fleet-status.ts";
import { fleetLayout } from "../../src/dashboard/fleet-layout.ts";
import { fleetScreen } from "../../src/dashboard/fleet-screen.ts";
import { helpLines } from "../../src/dashboard/help.ts";
import { helpScreen } from "../../src/dashboard/help-screen.ts";
import { roundLayout } from "../../src/dashboard/round/round-layout.ts";
import { dataSheet } from "../../src/dashboard/sheets/data-sheet.ts";
import { standingSheet } from "../../src/dashboard/sheets/standing-sheet.ts";
import { unitLayout, unitScreen } from "../../src/dashboard/unit-screen.ts";
import { worstFirst } from "../../src/dashboard/urgency.ts";
import { alarmNames } from "../../src/terms/alarms.ts";
import { drawn, widths } from "./draw.ts";
import { alarm, fleetView, healthyReadings, nightMs, reading, shownPast, unit } from "./fixture.ts";

const usual = { order: "worst", filter: "" } as const;

function screen(view: FleetView, { width = 80, height = 24, chosen = null as string | null, top = 0 } = {}) {
  return fleetScreen(view, fleetLayout(view, width), usual, chosen, top, 0, width, height);
}
function text(view: FleetView, size = {}): string {
  return drawn(screen(view, size), (size as { width?: number }).width).join("\n");
}
const order = (view: FleetView) => worstFirst(view).map((each) => each.unit.id);

describe("a unit of which not all can be judged", () => {
  const blind = (id: string, ...lacks: string[]) =>
    unit(id, { quiet: [{ alarm: "overheating", why: "no motor temperature in the log", lacks }] });

  test("is not called quiet: its row is marked, and what it lacks stands over the quiet", () => {
    const view = fleetView(0, { units: [blind("A", "motor temperature"), unit("B")] });
    expect(text(view)).toContain("nobody is known to be needed  1 quiet  ? 1 partly judged");
    expect(text(view)).toContain("? 1 of 27 alarms cannot be judged at A: no motor temperature");
    expect(text(view)).toMatch(/A +\? running/);
    expect(text(view)).toMatch(/B +≈ running/);
  });

  test("is told with its like, and no more than three kinds stand over the quiet", () => {
    const many = ["A", "B", "C", "D", "E"].map((id) => blind(id, "`runs`"));
    expect(text(fleetView(0, { units: many }))).toContain("at A, B, C and 2 more units: no `runs`");
    const kinds = ["a", "b", "c", "d"].map((what) => blind(what.toUpperCase(), what));
    expect(text(fleetView(0, { units: kinds })).match(/cannot be judged/g)).toHaveLength(3);
    expect(text(fleetView(0, { units: kinds }))).toContain("see the data quality");
  });

  test("says so by name, read out, on its own screen and in the data quality", () => {
    const one = blind("A", "motor temperature");
    const view = fleetView(0, { units: [one] });
    const words = "1 of 27 alarms cannot be judged: no motor temperature";
    const rows = (layout: ReturnType<typeof roundLayout>) =>
      layout.rows.flatMap(({ cells }) => drawn(cells(), 80)).join("\n");
    expect(rows(roundLayout(view, "name", 80))).toContain(`?  ${words}`);
    expect(rows(roundLayout(view, "worst", 80, true))).toContain(words);
    const page = unitLayout(one, view, shownPast(null), 0, true, 80, 24);
    expect(drawn(page.lines, 80).join("\n")).toContain(`none; silence is no proof of safety\n ? ${words}`);
    const sheet = dataSheet(view, 80);
    expect(sheet.title).toContain("amiss at 1 of 1 unit");
    expect(
      sheet.groups.flatMap(({ items }) => items.flatMap(({ lines }) => drawn(lines, 80))).join("\n"),
    ).toContain(words);
  });

  test("is left alone where it is laid up", () => {
    const laidUp = { ...blind("A", "motor temperature"), state: "laid up" } as const;
    expect(text(fleetView(0, { units: [laidUp] }))).toContain("nobody is needed  1 quiet");
  });
});

describe("a unit of whose alarms nobody would be told", () => {
  const said = { by: "ann", atMs: nightMs };
  const aside = unit("A", {
    setAside: alarmNames.map((alarm) => ({ alarm, state: "out-of-service", ...said }) as const),
  });
  const view = fleetView(0, { units: [aside, unit("B")] });
  const words = "all alarms out of service by ann";

  test("is not among the quiet ones, in any order, nor where it is read out", () => {
    expect(text(view)).toContain("nobody is needed  · 1 set aside  1 quiet");
    expect(text(view)).toContain(`A  ${words}`);
    const rows = (layout: ReturnType<typeof roundLayout>) =>
      layout.rows.flatMap(({ cells }) => drawn(cells(), 80)).join("\n");
    for (const order of ["name", "site"] as const)
      expect(rows(roundLayout(view, order, 80))).toContain(words);
    expect(rows(roundLayout(view, "worst", 80, true))).toContain(words);
  });

  test("counts as set aside among the standing alarms, in one row", () => {
    const sheet = standingSheet(view, 80);
    expect(sheet.title).toBe("Standing alarms: 0 active at 0 of 2 units · 27 set aside");
    expect(sheet.groups.flatMap(({ items }) => items)).toHaveLength(1);
  });
});

describe("worst first", () => {
  test("a high alarm before a medium, a low, planned work and the quiet", () => {
    expect(order(fleetView(14)).slice(0, 5)).toEqual(["LM-03", "LM-07", "LM-09", "LM-11", "LM-01"]);
  });

  test("a unit that cannot be read needs someone as soon as one that has fallen silent", () => {
    const view = fleetView(0, { units: [unit("A"), unit("B", { problem: "no file fits 'B*.csv'" })] });
    expect(order(view)).toEqual(["B", "A"]);
    expect(text(view)).toMatch(/▲ B {2}Cannot be read .*\n +no file fits 'B\*\.csv'/);
  });

  test("what nobody has acknowledged stands before what someone has, then the newest", () => {
    const since = (minutes: number) => ({
      sinceMs: nightMs - minutes * 60_000,
      raisedMs: nightMs - minutes * 60_000,
    });
    const view = fleetView(0, {
      units: [
        unit("seen", { alarms: [alarm({ state: "active-acknowledged", ...since(1) })] }),
        unit("old", { alarms: [alarm(since(90))] }),
        unit("new", { alarms: [alarm(since(5))] }),
      ],
    });
    expect(order(view)).toEqual(["new", "old", "seen"]);
  });

  test("shelved, suppressed and out-of-service alarms ask for nobody, yet are told", () => {
    const view = fleetView(0, {
      units: [
        unit("Q"),
        unit("S", { alarms: [alarm({ state: "shelved" })] }),
        unit("W", { state: "under service", alarms: [alarm({ state: "suppressed", by: "service" })] }),
      ],
    });
    expect(text(view)).toContain("nobody is needed  · 2 set aside  1 quiet");
    expect(text(view)).toContain("Lost prime shelved");
    expect(text(view)).toContain("Lost prime suppressed by service");
  });

  test("a row says by whom its alarm is acknowledged, and since when", () => {
    const acknowledged = { by: "Ann", atMs: nightMs - 20 * 60_000 };
    for (const priority of ["high", "medium"] as const) {
      const seen = alarm({ priority, state: "active-acknowledged", acknowledged });
      expect(text(fleetView(0, { units: [unit("S", { alarms: [seen] })] }))).toContain(
        "acknowledged by Ann 02:52",
      );
    }
  });

  test("an alarm that returned to normal unacknowledged is shown, but wakes nobody", () => {
    const over = { state: "returned-unacknowledged", returnedMs: nightMs - 4 * 60_000 } as const;
    const view = fleetView(0, { units: [unit("R", { alarms: [alarm(over)] })] });
    expect(text(view)).not.toContain(" now");
    expect(text(view)).toMatch(/R {2}Lost prime · over since 03:08, not acknowledged/);
  });

  test("a latched alarm that is over says since when, and not what it reads now or how long it lasts", () => {
    const over = alarm({ latched: true, returnedMs: nightMs - 4 * 60_000 });
    const said = text(fleetView(0, { units: [unit("R", { alarms: [over] })] }));
    expect(said).toContain("over since 03:08: look what it was; latched until it is acknowledged");
    expect(said).not.toMatch(/Lost prime for|now:|do:/);
  });
});

test("a unit that runs again while its alarm's off-delay runs says so, and not what to do about its standing", () => {
  const clearing = { sinceMs: nightMs - 2 * 60_000, atMs: nightMs + 8 * 60_000 };
  const stop = alarm({ alarm: "not-running", message: "the motor stood still", clearing });
  const now = text(fleetView(0, { units: [unit("R", { alarms: [stop] })] }));
  expect(now).toContain("Not running for 10 min: the motor stood still");
  expect(now).toContain("running again since 03:10; clears in 8 min if it stays so");
  expect(now).not.toContain("do:");
  const later = alarm({ alarm: "suction-air", priority: "medium", message: "vacuum wavered", clearing });
  expect(text(fleetView(0, { units: [unit("R", { alarms: [later] })] }))).toContain(
    "no longer so since 03:10; clears in 8 min if it stays so. vacuum wavered",
  );
});

describe("the fleet at 80 × 24", () => {
  test("says who needs someone now, with alarm, age, numbers and the first thing to do", () => {
    const rows = drawn(screen(fleetView(14)));
    expect(rows[0]).toMatch(/^ Larkmoor ponds +Mon 4 May 2026 03:12:20 CDT$/);
    expect(rows[1]).toBe(" needed:  ■ 1  now   ▲ 1  soon   ▼ 1  at the next visit  ○ 1 planned  10 quiet");
    expect(rows[3]).toMatch(/^▸ ■ LM-03 {2}Otter Pool · ≈ running since 01:12$/);
    expect(rows[4]).toContain("Lost prime for 12 min: motor current 4.1 A (baseline 9.2 A)");
    expect(rows.join("\n")).toContain("do: Cut the power at the skid's disconnect");
    expect(rows.join("\n")).toContain("state /var/lib/tarnwatch/larkmoor");
  });

  test("is exactly 24 rows of 80 columns, with wide characters and long names too", () => {
    const view = fleetView(0, {
      fleet: "池塘 ".repeat(40),
      stateFolder: "/long".repeat(40),
      units: [
        unit("池-1", { site: "鹭湾".repeat(30), alarms: [alarm()] }),
        unit("LM-02-with-a-name-longer-than-most", { site: null }),
        unit("池-3", { readings: healthyReadings(1) }),
      ],
    });
    const rows = screen(view);
    expect(rows).toHaveLength(24);
    for (const width of widths(rows)) expect(width).toBeLessThanOrEqual(80);
  });

  test("a quiet unit's readings stand on their scales beside their numbers, units above", () => {
    const rows = drawn(screen(fleetView(0, { units: [unit("LM-01")] })));
    expect(rows[3]).toMatch(/current +motor +suction +discharge +gas +O₃/);
    expect(rows[4]).toMatch(/A +°C +kPa +kPa +kPa/);
    expect(rows[5]).toMatch(/LM-01 ≈ running +9\.2 ├─+[━●]+─*┤ +58 .*● ?.*-2[45] .*86 .*34 .* on$/);
    expect(rows[4]?.indexOf("A")).toBe((rows[5]?.indexOf("9.2") ?? 0) + 2);
  });

  test("the US display shows °F, inHg and psi", () => {
    const shown = text(fleetView(0, { display: "us", units: [unit("LM-01")] }));
    expect(shown).toMatch(/°F +inHg +psi +psi/);
    expect(shown).toMatch(/ 136 /);
  });

  test("a demonstration says that it is one, and how fast its time runs", () => {
    const shown = text(fleetView(2, { demonstration: { speed: 30 } }));
    expect(shown).toContain("demonstration · invented fleet · time runs 30 × faster");
  });

  test("while the logs are still being read it says how far", () => {
    const shown = text(
      fleetView(2, { catchingUp: { bytesRead: 1.2e9, bytesTotal: 3e9, bytesPerSecond: null } }),
    );
    expect(shown).toContain("reading the logs: 40 % (1.2 of 3.0 GB)");
  });

  test("of units whose logs are still to be read it shows the newest readings, and claims nothing", () => {
    const behind = unit("LM-01", { catchingUp: true, baseline: null, sinceMs: null });
    const unread = unit("LM-02", {
      catchingUp: true,
      state: "no readings",
      sinceMs: null,
      lastReadingMs: null,
      readings: [],
    });
    const none = fleetView(0, { units: [behind, unread] });
    expect(text(none)).toMatch(/nothing known yet {2}0 quiet {2}… 2 catching up/);
    expect(text(none)).toMatch(/LM-01 … running +9\.2/);
    expect(text(none)).toContain("LM-02 … not read yet");
    const some = fleetView(0, { units: [behind, unit("LM-03"), unread] });
    expect(text(some)).toMatch(/nobody is needed so far {2}1 quiet {2}… 2 catching up/);
    expect(text(some)).toContain("1 quiet, … 2");
    const wrong = { ...unread, problem: "no log in logs; name it LM-02.csv" };
    expect(text(fleetView(0, { units: [behind, wrong] }))).toMatch(/▲ LM-02 +Cannot be read/);
  });

  test("units of which no reading has come yet are counted apart from the quiet ones", () => {
    const never = { state: "no readings", sinceMs: null, lastReadingMs: null, readings: [] } as const;
    const view = fleetView(0, { units: [unit("LM-01"), unit("LM-02", never), unit("LM-03", never)] });
    expect(text(view)).toMatch(/nobody is needed so far {2}1 quiet {2}\? 2 without readings yet/);
    expect(text(view)).toContain("1 quiet, 2 not read");
    expect(statusLines(view)[1]).toBe("nobody is known to be needed; 1 quiet, 2 without readings yet");
    const none = fleetView(0, { units: [unit("LM-02", never)] });
    expect(text(none)).toMatch(
      /nothing known yet {2}0 quiet {2}\? 1 without readings yet[\s\S]* 1 not read yet/,
    );
  });

  test("a unit keeps its place in the list when its logs have been read", () => {
    const units = ["LM-01", "LM-02", "LM-03"].map((id) => unit(id));
    const behind = (id: string) => units.map((u) => (u.id === id ? { ...u, catchingUp: true as const } : u));
    for (const id of ["LM-01", "LM-02", "LM-03"])
      expect(order(fleetView(0, { units: behind(id) }))).toEqual(["LM-01", "LM-02", "LM-03"]);
  });

  test("a screen that gets nothing newer says how old it is", () => {
    const view = fleetView(2);
    const rows = drawn(fleetScreen(view, fleetLayout(view, 80), usual, null, 0, 25_000, 80, 24));
    expect(rows[1]).toContain("This screen is 25 s old");
  });

  test("what is out of sight is counted, the urgent apart", () => {
    const view = fleetView(0, {
      units: Array.from({ length: 30 }, (_, i) => unit(`U-${i}`, i < 8 ? { alarms: [alarm()] } : {})),
    });
    expect(text(view)).toMatch(/2[5-7] below \(■ [3-5]\)/);
    expect(text(view, { chosen: "U-29" })).toMatch(/\d+ above \(■ 8\)/);
  });

  test("the quiet table's heading stays in sight while it scrolls", () => {
    const shown = drawn(screen(fleetView(60), { chosen: "LM-60" }));
    expect(shown[3]).toMatch(/quiet +current +motor/);
    expect(shown[4]).toMatch(/unit +state +A +°C/);
    expect(shown.join("\n")).toContain("▸ LM-60");
  });
});

describe("on a wide screen", () => {
  test("quiet units stand in two columns, each number with its unit above or beside it", () => {
    const rows = drawn(screen(fleetView(60), { width: 200, height: 60 }), 200);
    expect(rows.some((row) => /LM-01 ≈ running.*LM-02 ≈ running/.test(row))).toBe(true);
  });

  test("at 120 columns each number has its unit beside it", () => {
    expect(text(fleetView(14), { width: 120, height: 40 })).toMatch(/9\.1 A .*57 °C .*-24 kPa/);
  });
});

test("readings that are missing are a dash, not a zero", () => {
  const view = fleetView(0, {
    units: [unit("LM-01", { readings: [reading("motor_current", null), reading("ozone", null)] })],
  });
  expect(text(view)).toMatch(/LM-01 ≈ running +– /);
});

test("every screen says that nobody is notified where no collect runs", () => {
  const view = fleetView(3, { unnotified: { sinceMs: nightMs - 3_600_000 } });
  const said = " nobody is notified: no `collect` runs, since 02:12 at the latest";
  expect(drawn(screen(view))).toContain(said);
  const layout = unitLayout(view.units[0], view, shownPast(null), 0, true, 80, 24);
  expect(drawn(unitScreen(layout, view, 0, 80, 24))).toContain(said);
  expect(drawn(helpScreen(helpLines(view, 80), view, 0, 0, 80, 24))).toContain(said);
});
