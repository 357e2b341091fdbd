import { describe, expect, it } from "vitest";
import { cleanRiseK, foretold, type HeatReading, limitReachedMs } from "../../bench/heat-limit.ts";
import { hour, minute } from "../../src/terms/time.ts";

/** A motor read every minute: it runs from the first reading on, and stands, hot, where `shell` gives nothing. */
function motor(hours: number, shell: (h: number) => number | undefined, airC = Number.NaN): HeatReading[] {
  return Array.from({ length: hours * 60 }, (_, i) => {
    const shellC = shell(i / 60);
    return { timeMs: i * minute, currentA: shellC === undefined ? 0 : 9, shellC: shellC ?? 95, airC };
  });
}

/** 50 °C until the tenth hour, then 5 K an hour more. */
const blocked = (h: number) => 50 + 5 * Math.max(0, h - 10);

describe("the moment at which a motor reaches its limit", () => {
  it("is 90 °C at the shell where the air is not logged", () => {
    expect(limitReachedMs(motor(24, blocked), 10 * hour, 24 * hour, Number.NaN)).toBe(18 * hour);
  });

  it("is 15 K above its clean rise over the air where that is lower", () => {
    const readings = motor(24, blocked, 20);
    const cleanK = cleanRiseK(readings, 10 * hour);
    expect(cleanK).toBe(30);
    expect(limitReachedMs(readings, 10 * hour, 24 * hour, cleanK)).toBe(13 * hour);
  });

  it("does not come where the fault is mended before, or the motor stands", () => {
    expect(limitReachedMs(motor(24, blocked), 10 * hour, 17 * hour, Number.NaN)).toBeUndefined();
    const off = motor(24, (h) => (h > 17 ? undefined : blocked(h)));
    expect(limitReachedMs(off, 10 * hour, 24 * hour, Number.NaN)).toBeUndefined();
  });

  it("takes the clean rise from a warm motor alone, not from one that warms up", () => {
    const readings = motor(10, (h) => 20 + 30 * (1 - Math.exp(-h / 0.45)), 20);
    expect(cleanRiseK(readings, 10 * hour)).toBeGreaterThan(29.5);
    expect(
      cleanRiseK(
        motor(1, () => 50, 20),
        hour,
      ),
    ).toBeNaN();
  });
});

describe("the share of heat faults told before their limit", () => {
  it("counts those that reached it, and leaves out those that never did", () => {
    const told = { fromMs: 0, reachedMs: 60 * minute, raisedMs: [50 * minute] };
    const toldLate = { fromMs: 0, reachedMs: 60 * minute, raisedMs: [61 * minute] };
    const notTold = { fromMs: 0, reachedMs: 60 * minute, raisedMs: [] };
    const ofAnother = { fromMs: 30 * minute, reachedMs: 60 * minute, raisedMs: [20 * minute] };
    const never = { fromMs: 0, reachedMs: undefined, raisedMs: [10 * minute] };
    const cases = [told, { ...told, raisedMs: [40 * minute] }, toldLate, notTold, ofAnother, never];
    expect(foretold(cases)).toEqual({
      faults: 6,
      neverReached: 1,
      reached: 5,
      foretold: 2,
      leadMedianMs: 15 * minute,
    });
  });

  it("has no lead where none was told", () => {
    expect(foretold([]).leadMedianMs).toBeNull();
  });
});
