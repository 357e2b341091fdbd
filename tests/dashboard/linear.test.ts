import { describe, expect, test } from "vitest";
import { fleetScreen } from "../../src/dashboard/fleet-screen.ts";
import { line, span } from "../../src/dashboard/line.ts";
import { linearText } from "../../src/dashboard/linear/linear-text.ts";
import { roundLayout } from "../../src/dashboard/round/round-layout.ts";
import { standingSheet } from "../../src/dashboard/sheets/standing-sheet.ts";
import { unitLayout } from "../../src/dashboard/unit-screen.ts";
import { fleetView, history, lostPrime, nightMs, reading, shownPast, unit } from "./fixture.ts";

const drawing = /[\u2500-\u25ff\u2800-\u28ff·≈↑◇…]/;

describe("a screen that is read out", () => {
  const view = fleetView(14);

  test("says each unit in sentences: what is wrong and what to do first, then state and readings", () => {
    const layout = roundLayout(view, "worst", 100, true);
    const rows = fleetScreen(view, layout, { order: "worst", filter: "" }, null, 0, 0, 100, 60).map(
      linearText,
    );
    const text = rows.join(" ").replace(/\s+/g, " ");
    expect(text).toMatch(
      /chosen: LM-03: Otter Pool\. high alarm, Lost prime for 12 min, not acknowledged: motor current/,
    );
    expect(text).toContain("do first: Cut the power at the skid's disconnect");
    expect(text).toContain("motor current 4.1 A, past its limit");
    expect(text).toMatch(/LM-01: .*running since 02:12\. motor current 9\.1 A, motor temperature/);
    expect(text).toContain("ozone on");
    expect(text).not.toMatch(drawing);
  });

  test("tells on which side of normal a reading lies, since no scale shows it", () => {
    const readings = [
      reading("motor_current", 9.7),
      reading("gas_pressure", 31),
      reading("suction_pressure", -24),
    ];
    const { rows } = roundLayout(fleetView(0, { units: [unit("LM-01", { readings })] }), "name", 200, true);
    const text = rows.flatMap(({ cells }) => cells().map(linearText)).join(" ");
    expect(text).toContain(
      "motor current 9.7 A, above normal, gas pressure 31.0 kPa, below normal, suction pressure -24.0 kPa",
    );
  });

  test("draws nothing anywhere: no mark, scale or chart on a unit's screen or in a list either", () => {
    const past = history(view, "LM-03", nightMs - 4 * 3_600_000, nightMs, 100);
    const screen = unitLayout(lostPrime, view, shownPast(past), 0, true, 100, 40);
    const rows = [
      ...screen.head,
      ...screen.lines,
      ...standingSheet(view, 80).groups.flatMap(({ items }) => items.flatMap(({ lines }) => lines)),
    ];
    const text = rows.map(linearText).join("\n");
    expect(text).not.toMatch(drawing);
    expect(text).toMatch(/motor current, 4\.1 A, low, 8\.9 to 9\.5, 4\.6 to 11\.3/);
    expect(text).toContain("high LM-03, Lost prime for 12 min, not acknowledged, Otter Pool");
  });

  test("says what is chosen among several, and leaves out rows without words", () => {
    expect(linearText([span(" length "), span(" 8 h "), span("[24 h]", "selected"), span(" 7 d ")])).toBe(
      "length, 8 h, chosen 24 h, 7 d",
    );
    expect(linearText(line("────────"))).toBe("");
  });
});
