import { expect, test } from "vitest";
import { statusLines } from "../../src/commands/fleet-status.ts";
import { statusLine } from "../../src/commands/status-line.ts";
import { alarm, fleetView, nightMs, unit } from "../dashboard/fixture.ts";

test("a status ends with the baselines that somebody should answer for, and how many are provisional", () => {
  const units = [
    unit("LM-01"),
    unit("LM-02", { baseline: "provisional", baselineNote: "Nobody has said so." }),
    unit("LM-03", { baselineNote: "Since the repair it may not hold.", baselineAsks: true }),
    unit("LM-04", { baseline: "provisional", baselineNote: "It differs.", baselineAsks: true }),
  ];
  expect(statusLines(fleetView(0, { units })).slice(-4)).toEqual([
    "",
    "baseline  LM-03  confirmed: Since the repair it may not hold.",
    "baseline  LM-04  provisional: It differs.",
    "provisional baselines, that nobody has confirmed: 2 of 4",
  ]);
  expect(statusLines(fleetView(0, { units: [unit("LM-01")] })).at(-1)).toContain("quiet");
});

test("a status says that nobody is notified where no collect runs, and since when", () => {
  const view = fleetView(1, { unnotified: { sinceMs: nightMs - 3_600_000 } });
  expect(statusLines(view)).toContain("! nobody is notified: no `collect` runs, since 02:12 at the latest");
  expect(statusLines({ ...view, unnotified: { sinceMs: null } })).toContain(
    "! nobody is notified: no `collect` runs",
  );
  expect(statusLine(view)).toMatch(/ · nobody notified$/);
  expect([...statusLines(fleetView(1)), statusLine(fleetView(1))].join()).not.toContain("notified");
});

test("a status counts as partly judged what lacks a reading, and says which alarms are lost for what", () => {
  const lacks = ["motor temperature"];
  const quiet = [
    { alarm: "overheating", why: "no motor temperature in the log", lacks },
    { alarm: "freeze-risk", why: "no motor temperature in the log", lacks },
    { alarm: "ozone-in-air", why: "no ozone in air in the log" },
  ] as const;
  const lines = statusLines(fleetView(0, { units: [unit("LM-01", { quiet }), unit("LM-02")] }));
  expect(lines[1]).toBe("nobody is known to be needed; 1 quiet, 1 partly judged");
  expect(lines).toContain("2 of 27 alarms cannot be judged at LM-01: no motor temperature");
  expect(lines.filter((line) => / {2}running /.test(line)).map((line) => line.slice(0, 20))).toEqual([
    "partly judged  LM-01",
    "quiet          LM-02",
  ]);
});

const ann = { by: "Ann", atMs: nightMs - 1_200_000 };

test("a unit whose alarm is set aside is not called quiet: who, until when and why are told", () => {
  const aside = (state: "shelved" | "out-of-service", over = {}) =>
    unit("LM-01", {
      alarms: [alarm({ state })],
      setAside: [{ alarm: "lost-prime", state, ...ann, ...over }],
    });
  const told = (units: ReturnType<typeof unit>[]) => statusLines(fleetView(0, { units }));
  const shelved = told([aside("shelved", { untilMs: nightMs + 3_600_000, note: "seal ordered" })]);
  expect(shelved).toContain("nobody is needed; 1 set aside");
  expect(shelved).toContain("set aside  LM-01  Lost prime shelved by Ann until 04:12: seal ordered");
  expect(shelved.join()).not.toContain("quiet  ");
  expect(told([aside("out-of-service")])).toContain(
    "set aside  LM-01  Lost prime out of service by Ann since 02:52",
  );
  const begun = { unit: "LM-01", work: "cleaning", step: "begin", ...ann } as const;
  const served = unit("LM-01", { alarms: [alarm({ state: "suppressed", by: "service" })], begun: [begun] });
  expect(told([served])).toContain(
    "set aside  LM-01  Lost prime suppressed by service (cleaning by Ann since 02:52)",
  );
});

test("a status says by whom an alarm is acknowledged, and counts only what is not 0", () => {
  const acknowledged = alarm({ state: "active-acknowledged", acknowledged: ann });
  const lines = statusLines(
    fleetView(0, { units: [unit("LM-01", { alarms: [acknowledged] }), unit("LM-02")] }),
  );
  expect(lines[1]).toBe("someone is needed now at 1; 1 quiet");
  expect(lines.join()).toContain("Lost prime for 12 min (acknowledged by Ann 02:52)");
  expect(statusLines(fleetView(0, { units: [unit("LM-02")] }))[1]).toBe("nobody is needed; 1 quiet");
});

test("a status tells an alarm that is back to normal as it was, asks nobody to drive there, and has its unit among the quiet", () => {
  const back = alarm({
    alarm: "readings-stale",
    priority: "medium",
    state: "returned-unacknowledged",
    sinceMs: nightMs - 200 * 60_000,
    returnedMs: nightMs - 194 * 60_000,
    message: "No reading came for 6 min; since then readings come again.",
  });
  const units = [unit("QM-03", { alarms: [back] })];
  const lines = statusLines(fleetView(0, { units }));
  expect(lines[1]).toBe("nobody is needed; 1 to acknowledge");
  const at = lines.findIndex((line) => line.startsWith("MEDIUM"));
  expect(lines[at]).toMatch(/Readings stale \(over since (3 May )?23:58, not acknowledged\)/);
  expect(lines[at + 1]).toBe(`  ${back.message}`);
  expect(lines.join("\n")).not.toContain("First:");
  expect(lines.join("\n")).toMatch(/^quiet {2}QM-03 {2}running/m);
});
