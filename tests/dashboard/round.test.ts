import { describe, expect, test } from "vitest";
import { fleetScreen } from "../../src/dashboard/fleet-screen.ts";
import { filtered, roundLayout } from "../../src/dashboard/round/round-layout.ts";
import { trendLine } from "../../src/dashboard/round/trend-line.ts";
import { orders } from "../../src/dashboard/round/use-round.ts";
import { drawn, widths } from "./draw.ts";
import { fleetView, nightMs, reading, unit } from "./fixture.ts";

type Order = (typeof orders)[number];

function screen(view = fleetView(14), order: Order = "worst", filter = "", { width = 80, height = 60 } = {}) {
  const layout = roundLayout(filtered(view, filter), order, width);
  return fleetScreen(view, layout, { order, filter }, null, 0, 0, width, height);
}
const text = (...args: Parameters<typeof screen>) => drawn(screen(...args), args[3]?.width).join("\n");

describe("the round of units", () => {
  test("by name counts as people do, and keeps each unit's worst alarm with its age under it", () => {
    const view = fleetView(0, {
      units: [unit("LM-10"), unit("LM-2"), ...fleetView(3).units.slice(2)],
    });
    const shown = text(view, "name");
    expect(shown.match(/LM-\d+/g)).toEqual(["LM-2", "LM-03", "LM-10"]);
    expect(shown).toMatch(/LM-03 ≈ running +4\.1.*\n +■ {2}Lost prime for 12 min · 1 more: motor current/);
    expect(shown).toContain(" by name\n");
  });

  test("by site stands under its site's name, those without a site last", () => {
    const units = [
      unit("A-1", { site: null }),
      unit("B-1", { site: "Otter Pool" }),
      unit("C-1"),
      unit("B-2", { site: "Otter Pool" }),
    ];
    expect(text(fleetView(0, { units }), "site")).toMatch(
      /Heron Bend · 1 unit\n▸ C-1.*\n\n Otter Pool · 2 units\n +B-1.*\n +B-2.*\n\n no site in the fleet file · 1 unit\n +A-1/,
    );
  });

  test("is filtered by words of id, site, state and alarm, with or without accents, and says so", () => {
    const found = (filter: string) => filtered(fleetView(14), filter).units.map(({ id }) => id);
    expect(found("otter prime")).toEqual(["LM-03"]);
    expect(found("RESTRICTED")).toEqual(["LM-07"]);
    expect(found("stopped")).toEqual(["LM-06"]);
    expect(found("lm-1")).toEqual(["LM-10", "LM-11", "LM-12", "LM-13", "LM-14"]);
    expect(filtered(fleetView(0, { units: [unit("É-1")] }), "e-1").units).toHaveLength(1);
    expect(text(fleetView(14), "worst", "otter prime")).toContain(
      "worst first · only 'otter prime': 1 of 14 units · Esc shows all",
    );
    expect(text(fleetView(14), "worst", "zzz")).toContain("no unit fits 'zzz'");
  });

  test("never hides that somebody is needed: the head counts the whole fleet, whatever is filtered", () => {
    expect(text(fleetView(14), "worst", "lm-14")).toMatch(/needed: {2}■ 1 {2}now/);
  });

  test("fills every size in every order, and no row runs over its edge", () => {
    const odd = ["深い池", "🐟-1", "\u202eLM", "a\u200bb", "\u001b[31mred", "e\u0301é"];
    const units = [...odd.map((id) => unit(id, { site: id })), ...fleetView(30).units];
    for (const order of orders)
      for (const [width, height] of [
        [60, 15],
        [80, 24],
        [120, 40],
        [200, 60],
        [300, 100],
      ] as const) {
        const rows = screen(fleetView(0, { units }), order, "", { width, height });
        expect(rows, `${order} ${width}`).toHaveLength(height);
        for (const row of widths(rows.slice(3, -2))) expect(row).toBeLessThanOrEqual(width);
      }
  });

  test("shows a small trend of the discharge pressure where there is room", () => {
    const values = [86, 86, 86, 86, 86, 80, 70, 60, 50, 44, null, 30];
    const view = fleetView(0, { units: [unit("LM-01", { trend: { values, toMs: nightMs } })] });
    expect(text(view, "worst", "", { width: 80 })).not.toContain("last 2 h");
    const wide = text(view, "worst", "", { width: 120 });
    expect(wide).toMatch(/O₃ +discharge\n.*last 2 h/);
    expect(wide).toMatch(/LM-01 .* on {2}▄▄▄▄▄▄▃▂▁▁ ▁/);
  });
});

describe("a small trend", () => {
  test("is on the scale of the reading's indicator, so that a level one in its normal band is level", () => {
    const values = [85, 86, 87, 86];
    const discharge = reading("discharge_pressure", 86);
    expect(new Set(trendLine({ values, toMs: nightMs }, discharge, 4)).size).toBe(1);
    expect(trendLine({ values: [43, 130], toMs: nightMs }, discharge, 2)).toBe("▁▇");
  });

  test("without a scale shows its own ups and downs, but noise stays small", () => {
    const bare = { values: [80, 80.2, 80], toMs: nightMs };
    expect(new Set(trendLine(bare, undefined, 3)).size).toBe(1);
    expect(trendLine({ values: [10, 80], toMs: nightMs }, undefined, 2)).toBe("▁▇");
  });
});
