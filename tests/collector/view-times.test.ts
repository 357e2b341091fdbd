import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { startViewTimes } from "../../src/collector/view-times.ts";
import { hour } from "../../src/terms/time.ts";

beforeEach(() => void vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout", "Date", "performance"] }));
afterEach(() => void vi.useRealTimers());

/** When views were sent, ms from now. */
function sending() {
  const startMs = performance.now();
  const at: number[] = [];
  const times = startViewTimes(() => at.push(performance.now() - startMs));
  return { at, times };
}

describe("views are sent", () => {
  it("once a second, and a tenth of a second after an alarm came or went", () => {
    const { at, times } = sending();
    times.send();
    for (let tick = 0; tick < 25; tick++) {
      vi.advanceTimersByTime(100);
      times.changed(tick === 14);
    }
    expect(at).toEqual([0, 1000, 1600]);
    vi.advanceTimersByTime(100);
    expect(at).toEqual([0, 1000, 1600, 2600]);
  });

  it.each([-3 * hour, 3 * hour])("as often after the clock has leapt by %d ms", (leapMs) => {
    const { at, times } = sending();
    times.send();
    vi.setSystemTime(Date.now() + leapMs);
    for (let tick = 0; tick < 3; tick++) {
      times.changed(false);
      vi.advanceTimersByTime(1000);
    }
    expect(at).toEqual([0, 1000, 2000, 3000]);
  });

  it("no more once that is over", () => {
    const { at, times } = sending();
    times.changed(true);
    times.stop();
    vi.advanceTimersByTime(5000);
    expect(at).toEqual([]);
  });
});
