import { expect, test } from "vitest";
import { statusLines } from "../../src/commands/fleet-status.ts";
import { fleetView, unit } from "../dashboard/fixture.ts";

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
