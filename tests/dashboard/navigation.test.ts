import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fleetLayout } from "../../src/dashboard/fleet-layout.ts";
import type { Command } from "../../src/dashboard/keys.ts";
import {
  chosenIndex,
  firstPlace,
  moved,
  type Place,
  type Surroundings,
} from "../../src/dashboard/navigation.ts";
import { scrolledTo } from "../../src/dashboard/viewport.ts";
import { fleetView } from "./fixture.ts";

function around(units: number, width: number): Surroundings {
  const { items, columns, rows } = fleetLayout(fleetView(units), width);
  return {
    items,
    columns,
    fleetRows: rows.length,
    fleetHeight: 19,
    unitRows: 80,
    unitHeight: 18,
    unitPinned: 0,
    parts: [0, 30, 40],
    helpRows: 50,
    helpHeight: 19,
  };
}
const walk = (surroundings: Surroundings, ...commands: readonly Command[]): Place =>
  commands.reduce((place, command) => moved(place, command, surroundings), firstPlace);
const chosen = (surroundings: Surroundings, ...commands: readonly Command[]): string | undefined =>
  surroundings.items[chosenIndex(surroundings.items, walk(surroundings, ...commands).unit)]?.unit;

describe("moving through the fleet", () => {
  test("arrows down go through every unit of one column, and up through all of them back", () => {
    const here = around(14, 80);
    const down = Array.from({ length: 13 }, () => "down" as const);
    expect(chosen(here, ...down)).toBe("LM-14");
    expect(chosen(here, ...down, ...down.map(() => "up" as const))).toBe("LM-03");
  });

  test("in two columns, right goes across and down stays in its column", () => {
    const here = around(60, 200);
    expect(here.columns).toBe(2);
    const first = ["down", "down", "down", "down"] as const;
    expect(chosen(here, ...first)).toBe("LM-01");
    expect(chosen(here, ...first, "right")).toBe("LM-02");
    expect(chosen(here, ...first, "right", "down")).toBe("LM-05");
  });

  test("whatever is pressed, the chosen unit is in sight", () => {
    const commands = fc.constantFrom<Command>(
      "up",
      "down",
      "left",
      "right",
      "page up",
      "page down",
      "home",
      "end",
      "open",
      "back",
    );
    fc.assert(
      fc.property(
        fc.array(commands, { maxLength: 40 }),
        fc.constantFrom(80, 170, 260),
        fc.integer({ min: 1, max: 120 }),
        (pressed, width, units) => {
          const here = around(units, width);
          const place = walk(here, ...pressed);
          const item = here.items[chosenIndex(here.items, place.unit)];
          if (item === undefined || place.screen === "unit") return;
          const top = scrolledTo(
            place.fleetTop,
            here.fleetHeight,
            item.revealFrom,
            item.last,
            here.fleetRows,
          );
          expect(item.first).toBeGreaterThanOrEqual(top);
          expect(item.last).toBeLessThan(top + here.fleetHeight);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("moving on a unit's screen", () => {
  const here = around(14, 80);
  test("scrolling stops at both ends", () => {
    expect(walk(here, "open", "end").unitTop).toBe(62);
    expect(walk(here, "open", "end", "page down").unitTop).toBe(62);
    expect(walk(here, "open", "page down", "home").unitTop).toBe(0);
  });
  test("Tab goes from part to part and round to the first", () => {
    expect(walk(here, "open", "next part").unitTop).toBe(30);
    expect(walk(here, "open", "next part", "next part").unitTop).toBe(40);
    expect(walk(here, "open", "next part", "next part", "next part").unitTop).toBe(0);
  });
});
