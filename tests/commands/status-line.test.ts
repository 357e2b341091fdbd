import { expect, it } from "vitest";
import { statusLine } from "../../src/commands/status-line.ts";
import { widthOf } from "../../src/dashboard/width.ts";
import { alarm, fleetView, nightMs, unit } from "../dashboard/fixture.ts";

const of = (units: ReturnType<typeof unit>[], fleet = "Larkmoor ponds") =>
  statusLine({ ...fleetView(0), units, fleet });

it("names the worst that stands, and counts the rest", () => {
  expect(
    of([
      unit("LM-01"),
      unit("LM-03", { alarms: [alarm(), alarm({ alarm: "ozone-off", priority: "medium" })] }),
      unit("LM-04", { alarms: [alarm({ alarm: "service-overdue", priority: "prompt" })] }),
    ]),
  ).toBe("Larkmoor ponds: 1 high, 1 medium, 1 planned, 1 quiet · LM-03 lost prime 12 min");
});

it("names first what can wait least: a stop that can wait a day after damage that is running", () => {
  const since = (minutes: number) => nightMs - minutes * 60_000;
  const guidance = (urgency: "now" | "soon") => ({ ...alarm().guidance, urgency });
  const stopped = alarm({
    alarm: "not-running",
    sinceMs: since(120),
    raisedMs: since(1),
    guidance: guidance("soon"),
  });
  const dry = alarm({ sinceMs: since(30), raisedMs: since(29), guidance: guidance("now") });
  const hot = alarm({ alarm: "overheating", sinceMs: since(50), guidance: guidance("now") });
  const seen = { ...hot, state: "active-acknowledged", acknowledged: { by: "Ann", atMs: nightMs } } as const;
  const first = (...alarms: ReturnType<typeof alarm>[]) =>
    of(alarms.map((each, i) => unit(`LM-${i}`, { alarms: [each] }))).split(" · ")[1];
  expect(first(stopped, dry)).toBe("LM-1 lost prime 30 min");
  expect(first(dry, hot)).toBe("LM-1 overheating 50 min");
  expect(first(seen, dry)).toBe("LM-1 lost prime 30 min");
});

it("tells of a unit that cannot be read, of one that is set aside, and of nothing acknowledged away", () => {
  expect(of([unit("LM-01", { problem: "no log" })])).toBe("Larkmoor ponds: 1 cannot be read, 0 quiet");
  for (const state of ["shelved", "suppressed", "out-of-service"] as const)
    expect(of([unit("LM-01", { alarms: [alarm({ state })] })])).toBe("Larkmoor ponds: 1 set aside, 0 quiet");
  expect(of([unit("LM-01", { alarms: [alarm({ state: "active-acknowledged" })] })])).toContain("1 high");
});

it("fits 80 columns, however long the names are", () => {
  const line = of([unit("U".repeat(40), { alarms: [alarm()] })], "池塘".repeat(40));
  expect(widthOf(line)).toBeLessThanOrEqual(80);
  expect(line).toContain("lost prime");
  for (const id of ["LM-01", "LM".repeat(40)]) {
    expect(widthOf(of([unit(id, { alarms: [alarm()] })], "池".repeat(60)))).toBeLessThanOrEqual(80);
  }
  expect(of([unit("LM-01", { alarms: [alarm()] })], "池".repeat(60))).toMatch(
    /… *: .* · LM-01 lost prime 12 min$/,
  );
});

it("cuts the counts rather than the alarm to answer first", () => {
  const lacks = ["motor temperature"];
  const quiet = [{ alarm: "overheating", why: "no motor temperature in the log", lacks }] as const;
  const all = [
    unit("LM-01", { alarms: [alarm({ alarm: "ozone-without-water" }), alarm({ priority: "medium" })] }),
    unit("LM-02", { problem: "no log" }),
    unit("LM-03", { quiet }),
    unit("LM-04", { alarms: [alarm({ state: "shelved" })] }),
  ];
  const line = of(all);
  expect(line).toMatch(/^1 cannot be read, 1 high, 1 medium.*… · LM-01 ozone without water 12 min$/);
  expect(widthOf(line)).toBeLessThanOrEqual(80);
});

it("calls quiet only what was read and needs nothing", () => {
  const returned = alarm({ state: "returned-unacknowledged" });
  expect(
    of([unit("LM-01", { alarms: [returned] }), unit("LM-02", { catchingUp: true }), unit("LM-03")]),
  ).toBe("Larkmoor ponds: 1 to acknowledge, 1 not read yet, 1 quiet");
});

it("does not call quiet what cannot be seen", () => {
  const blind = unit("LM-01", {
    quiet: [{ alarm: "overheating", why: "no motor temperature in the log", lacks: ["motor temperature"] }],
  });
  expect(of([blind, unit("LM-02")])).toBe("Larkmoor ponds: 1 partly judged, 1 quiet");
});

it("says since when nothing was read where that is so of all that is in season", () => {
  const silent = { state: "no readings", lastReadingMs: nightMs - 120_000 } as const;
  const laidUp = unit("LM-02", { state: "laid up", lastReadingMs: 0 });
  expect(of([unit("LM-01", silent), laidUp])).toBe("Larkmoor ponds: 2 quiet · newest reading 03:10");
  expect(of([unit("LM-01", silent), unit("LM-02")])).toBe("Larkmoor ponds: 2 quiet");
});
