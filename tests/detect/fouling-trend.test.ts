import { describe, expect, it } from "vitest";
import type { FoulingLimits } from "../../src/detect/fouling-forecast.ts";
import { type FoulingTrend, gather, startFoulingTrend } from "../../src/detect/fouling-trend.ts";
import { day, hour, minute } from "../../src/terms/time.ts";

const limits: FoulingLimits = { limit: 0.25, least: 0.02, horizonMs: 60 * day, cleanHours: [] };

/** Values of growth every two minutes while it runs; `growth` and `runs` by the time, ms. */
function run(
  state: FoulingTrend,
  fromMs: number,
  toMs: number,
  growth: (timeMs: number) => number,
  runs: (timeMs: number) => boolean = () => true,
): void {
  for (let timeMs = fromMs; timeMs < toMs; timeMs += 2 * minute) {
    if (runs(timeMs)) gather(state, timeMs, growth(timeMs), Number.NaN, limits);
  }
}

/** When fouling is first told, ms; null where it is not within `days`. */
function firstTold(
  days: number,
  growth: (timeMs: number) => number,
  runs?: (timeMs: number) => boolean,
): number | null {
  const state = startFoulingTrend();
  for (let timeMs = 0; timeMs < days * day; timeMs += hour) {
    run(state, timeMs, timeMs + hour, growth, runs);
    if (state.fouling !== null) return timeMs;
  }
  return null;
}

const rises = (perDay: number) => (timeMs: number) => (perDay * timeMs) / day;

describe("a line that fouls by 3 % a day", () => {
  it("stays told through two hours in which nearly all of it is gone", () => {
    const state = startFoulingTrend();
    run(state, 0, 4 * day, rises(0.03));
    expect(state.fouling).not.toBeNull();
    run(state, 4 * day, 4 * day + 2 * hour, () => 0.005);
    run(state, 4 * day + 2 * hour, 4 * day + 2 * hour + 2 * minute, rises(0.03));
    expect(state.fouling).not.toBeNull();
    run(state, 4 * day + 2 * hour, 5 * day, rises(0.03));
    expect(state.fouling?.growth).toBeGreaterThan(0.13);
  });
});

describe("a pump that runs four hours a day, five hours later each day", () => {
  const runs = (timeMs: number): boolean =>
    [0, 1, 2, 3].includes((Math.floor(timeMs / hour) - 29 * Math.floor(timeMs / day) + 2400) % 24);

  it("is told to foul within eight days, before its hours have come round often enough", () => {
    const toldMs = firstTold(12, rises(0.02), runs);
    expect(toldMs).not.toBeNull();
    expect((toldMs ?? Number.NaN) / day).toBeLessThan(8);
  });

  it("is not told to foul by a swing of ±4 % over the day", () => {
    const swing = (timeMs: number) => 0.04 * Math.sin((2 * Math.PI * timeMs) / day);
    expect(firstTold(40, swing, runs)).toBeNull();
  });
});
