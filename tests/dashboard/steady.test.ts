import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FleetView } from "../../src/collector/fleet-view.ts";
import { quantityText } from "../../src/dashboard/reading-text.ts";
import { steadied } from "../../src/dashboard/steady.ts";
import { fleetView, reading, unit } from "./fixture.ts";

const viewOf = (amps: number | null, limitHigh: number | null = 11.3): FleetView =>
  fleetView(1, { units: [unit("LM-01", { readings: [reading("motor_current", amps, { limitHigh })] })] });
const shown = (view: FleetView) =>
  quantityText("motor_current", view.units[0]?.readings[0]?.value ?? null, "si");

/** What a screen shows as readings come, one after the other. */
function screen(amps: readonly number[]): string[] {
  let view: FleetView | null = null;
  return amps.map((value) => {
    view = steadied(view, viewOf(value));
    return shown(view);
  });
}

describe("a number on the screen", () => {
  it("stays while its last digit would only flicker, and follows a change at once", () => {
    expect(screen([9.24, 9.26, 9.24, 9.26, 9.27])).toEqual(Array(5).fill("9.2 A"));
    expect(screen([9.24, 9.28, 9.27, 9.23, 9.21])).toEqual(["9.2 A", "9.3 A", "9.3 A", "9.3 A", "9.2 A"]);
    expect(screen([9.2, 14.8, 0])).toEqual(["9.2 A", "14.8 A", "0.0 A"]);
  });

  it("shows at once that a limit is passed, and that a reading is missing", () => {
    const before = viewOf(11.28);
    expect(steadied(before, viewOf(11.32)).units[0]?.readings[0]?.value).toBe(11.32);
    expect(shown(steadied(before, viewOf(null)))).toBe("– A");
    expect(shown(steadied(viewOf(null), viewOf(9.2)))).toBe("9.2 A");
  });

  it("is never further from its reading than the last digit", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 9, max: 9.6, noNaN: true }), { minLength: 2 }), (amps) => {
        const texts = screen(amps);
        for (const [place, text] of texts.entries()) {
          expect(Math.abs(Number.parseFloat(text) - (amps[place] ?? 0))).toBeLessThan(0.1 + 1e-9);
        }
      }),
    );
  });
});
