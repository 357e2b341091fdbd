import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type ChartPlace,
  firstChartPlace,
  movedInCharts,
  windowOf,
} from "../../src/dashboard/chart-place.ts";
import type { Command } from "../../src/dashboard/keys.ts";
import { zooms } from "../../src/dashboard/zoom.ts";
import { nightMs } from "./fixture.ts";

const hour = 3_600_000;
const knownFromMs = nightMs - 30 * 24 * hour;
const points = 116;
const columns = 58;

function placeAfter(commands: readonly Command[], from: ChartPlace = firstChartPlace): ChartPlace {
  return commands.reduce((place, command) => {
    const window = windowOf(place, nightMs, points);
    return movedInCharts(place, command, { clockMs: nightMs, window, columns, knownFromMs }) ?? place;
  }, from);
}
const shown = (place: ChartPlace) => windowOf(place, nightMs, points);

describe("the time that the charts show", () => {
  test("begins with the last 4 hours, and reaches from 15 minutes to 90 days", () => {
    expect(zooms[firstChartPlace.zoom]).toMatchObject({ words: "4 hours" });
    expect([zooms[0].ms, zooms.at(-1)?.ms]).toEqual([hour / 4, 90 * 24 * hour]);
  });

  test("goes back by half of itself, and forth until it goes on with the clock again", () => {
    const back = placeAfter(["earlier", "earlier"]);
    expect(shown(back).toMs).toBe(shown(firstChartPlace).toMs - 4 * hour);
    expect(placeAfter(["later", "later"], back).endMs).toBeNull();
    expect(placeAfter(["newest"], back)).toEqual(firstChartPlace);
  });

  test("goes no further back than to where half of it is known", () => {
    const oldest = placeAfter(new Array(400).fill("earlier"));
    expect(shown(oldest).toMs - 2 * hour).toBeGreaterThanOrEqual(knownFromMs);
    expect(shown(oldest).toMs - 4 * hour).toBeLessThan(knownFromMs);
  });

  test("grows about its middle where it stands still, and stays at the newest where it goes on", () => {
    expect(placeAfter(["more time"]).endMs).toBeNull();
    const still = placeAfter(["earlier", "earlier", "earlier", "earlier"]);
    const middle = ({ fromMs, toMs }: ReturnType<typeof shown>) => (fromMs + toMs) / 2;
    const wider = shown(placeAfter(["more time"], still));
    expect(Math.abs(middle(wider) - middle(shown(still)))).toBeLessThan((8 * hour) / points);
  });

  test("stands still while something is read off, and goes on once the mark is away", () => {
    const marked = placeAfter(["mark"]);
    expect(marked.endMs).not.toBeNull();
    expect(placeAfter(["mark"], marked)).toEqual(firstChartPlace);
    expect(placeAfter(["back"], marked)).toEqual(firstChartPlace);
    expect(placeAfter(["left"])).toEqual(firstChartPlace);
  });

  test("the mark moves by a column, and takes the window along at its end", () => {
    const marked = placeAfter(["mark", "left"]);
    expect(marked.mark?.timeMs).toBeCloseTo(shown(marked).fromMs + 2 * hour - (4 * hour) / columns, 0);
    const beyond = placeAfter(new Array(40).fill("left"), marked);
    expect(shown(beyond).toMs).toBeLessThan(shown(marked).toMs);
  });

  test("whatever is pressed, the mark lies within it, and it ends neither past now nor before anything is known", () => {
    const command = fc.constantFrom<Command>(
      ...(["earlier", "later", "newest", "mark", "left", "right", "less time", "more time", "back"] as const),
    );
    fc.assert(
      fc.property(fc.array(command, { maxLength: 60 }), (commands) => {
        const place = placeAfter(commands);
        const { fromMs, toMs } = shown(place);
        expect(toMs - (toMs - fromMs) / points).toBeLessThanOrEqual(nightMs);
        expect(toMs).toBeGreaterThan(knownFromMs);
        if (place.mark === null) return;
        expect(place.mark.timeMs).toBeGreaterThanOrEqual(fromMs);
        expect(place.mark.timeMs).toBeLessThan(toMs);
      }),
    );
  });
});
