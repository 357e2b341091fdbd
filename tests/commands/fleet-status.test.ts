import { expect, test } from "vitest";
import { statusLines } from "../../src/commands/fleet-status.ts";
import { statusLine } from "../../src/commands/status-line.ts";
import { fleetView, nightMs, unit } from "../dashboard/fixture.ts";

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
