import { describe, expect, test } from "vitest";
import type { UnitHistory } from "../../src/collector/fleet-view.ts";
import { pastIn } from "../../src/dashboard/past-window.ts";
import { nightMs, plainPast } from "./fixture.ts";

const minute = 60_000;

/** A past of so many minutes' points up to `toMs`, each as given. */
function past(toMs: number, values: readonly number[], over: Partial<UnitHistory> = {}): UnitHistory {
  const fromMs = toMs - values.length * minute;
  return {
    ...plainPast,
    unit: "A",
    fromMs,
    toMs,
    timeMs: values.map((_, k) => fromMs + (k + 0.5) * minute),
    signals: [{ channel: "motor_current", part: 0, low: values, high: values }],
    events: [],
    ...over,
  };
}
const window = (toMs: number, minutes: number, points: number) => ({
  fromMs: toMs - minutes * minute,
  toMs,
  points,
});
const highs = (shown: UnitHistory | null) => shown?.signals[0]?.high;

describe("while the answer of a key is on its way", () => {
  test("what is known of the new time stays where it was, the rest is empty", () => {
    const known = past(nightMs, [1, 2, 3, 4]);
    expect(highs(pastIn(known, null, window(nightMs - 2 * minute, 4, 4)))).toEqual([
      Number.NaN,
      Number.NaN,
      1,
      2,
    ]);
  });

  test("a shorter time shows the points that it lies in, a longer one their extremes", () => {
    const known = past(nightMs, [1, 2, 3, 4]);
    expect(highs(pastIn(known, null, window(nightMs, 2, 4)))).toEqual([3, 3, 4, 4]);
    expect(highs(pastIn(known, null, window(nightMs, 4, 2)))).toEqual([2, 4]);
    expect(pastIn(known, null, window(nightMs, 4, 2))?.signals[0]?.low).toEqual([1, 3]);
  });

  test("nothing is drawn of a unit of which nothing is known yet", () => {
    expect(pastIn(null, null, window(nightMs, 4, 4))).toBeNull();
  });
});

describe("what was read from the logs", () => {
  test("lies over what is summed up, with its gaps", () => {
    const summed = past(nightMs, [5, 5, 5, 5], { coarsestMs: 10 * minute });
    const read = past(nightMs - minute, [1, Number.NaN]);
    expect(highs(pastIn(summed, read, window(nightMs, 4, 4)))).toEqual([5, 1, Number.NaN, 5]);
  });

  test("gives way where it was read for a longer time, and says less by now", () => {
    const summed = past(nightMs, [5, 6, 7, 8], { coarsestMs: minute });
    const read = { ...past(nightMs, [9]), fromMs: nightMs - 60 * minute };
    expect(highs(pastIn(summed, read, window(nightMs, 4, 4)))).toEqual([5, 6, 7, 8]);
  });
});
