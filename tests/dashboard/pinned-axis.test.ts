import { describe, expect, test } from "vitest";
import { textOf } from "../../src/dashboard/line.ts";
import { firstPlace, moved, type Surroundings } from "../../src/dashboard/navigation.ts";
import { mostPinned, pinnedLines } from "../../src/dashboard/pinned-axis.ts";
import { unitLayout, unitScreen } from "../../src/dashboard/unit-screen.ts";
import { drawn } from "./draw.ts";
import { fleetView, history, lostPrime, nightMs, shownPast } from "./fixture.ts";

const hour = 3_600_000;
const [width, height] = [80, 24];
const view = fleetView(0, { units: [lostPrime] });
const past = shownPast(history(view, "LM-03", nightMs - 4 * hour, nightMs, (width - 22) * 2));
const layout = unitLayout(lostPrime, view, past, 0, true, width, height);
const room = height - layout.head.length - 2;
const charts = layout.chartRows ?? { from: 0, to: 0, axis: null };
const labels = / 4 May +01:00 +02:00 +03:00/;
const around: Surroundings = {
  items: [],
  columns: 1,
  fleetRows: 0,
  fleetHeight: 19,
  unitRows: layout.lines.length,
  unitHeight: room,
  unitPinned: mostPinned,
  parts: layout.parts,
  helpRows: 0,
  helpHeight: 19,
};
const shownAt = (top: number) =>
  drawn(unitScreen(layout, view, top, width, height)).slice(layout.head.length, -2);

describe("a unit's charts that are taller than the window", () => {
  test("keep their time and its axis in sight, once, wherever they are scrolled to", () => {
    const axis = charts.axis ?? 0;
    expect(charts.to - charts.from).toBeGreaterThan(room);
    for (let top = charts.from - room + 4; top <= charts.to - 5; top++) {
      const shown = shownAt(top);
      expect(
        shown.filter((row) => labels.test(row)),
        `from line ${top}`,
      ).toHaveLength(1);
      expect(
        shown.filter((row) => row.includes("The last 4 hours")),
        `from line ${top}`,
      ).toHaveLength(1);
      if (top + room <= axis) expect(shown.at(-1)).toMatch(labels);
    }
  });

  test("leave other parts of the screen alone", () => {
    expect(shownAt(0).join("\n")).not.toMatch(labels);
    expect(pinnedLines(charts, charts.to - 1, room).size).toBe(0);
    expect(pinnedLines(charts, charts.from - room + 2, room).size).toBe(0);
  });

  test("show each of their lines while they are paged through", () => {
    const seen = new Set<number>();
    const lines = layout.lines.map(textOf);
    let place = { ...firstPlace, screen: "unit" as const };
    for (let page = 0; page < 20; page++) {
      const pinned = pinnedLines(charts, place.unitTop, room);
      for (let row = 0; row < room; row++) seen.add(pinned.get(row) ?? place.unitTop + row);
      place = { ...place, unitTop: moved(place, "page down", around).unitTop };
    }
    expect(lines.filter((_, line) => !seen.has(line))).toEqual([]);
  });
});
