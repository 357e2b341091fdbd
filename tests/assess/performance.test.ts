import { describe, expect, it } from "vitest";
import { performance } from "../../src/assess/performance.ts";
import type { AlarmName, Priority } from "../../src/terms/alarms.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import type { Word } from "../../src/terms/words.ts";

const told = (
  timeMs: number,
  event: "raised" | "cleared" | "suppressed" | "unsuppressed" = "raised",
  { unit = "LM-01", alarm = "cavitation" as AlarmName, priority = "medium" as Priority } = {},
) => ({ timeMs, unit, alarm, event, priority });

/** `count` different alarms in one ten minutes that begins at `fromMs`. */
const burst = (fromMs: number, count: number) =>
  Array.from({ length: count }, (_, n) => told(fromMs + n * 1000, "raised", { unit: `LM-${n}` }));

describe("alarm performance, by hand", () => {
  it("counts what was announced by day, hour and ten minutes; prompts and what was suppressed are no alarms", () => {
    const events = [
      told(0),
      told(hour, "suppressed"),
      told(2 * hour, "unsuppressed"),
      told(3 * hour, "raised", { priority: "prompt", alarm: "service-overdue" }),
      told(4 * hour, "raised", { priority: "high", alarm: "lost-prime" }),
    ];
    const figures = performance(events, [], 0, 12 * hour);
    expect(figures).toMatchObject({ announced: 3, perDay: 6, perHour: 0.25, mostInTenMinutes: 1 });
    expect(figures.perTenMinutes).toBeCloseTo(3 / 72, 10);
    expect(figures.byPriority).toEqual({ high: 1 / 3, medium: 2 / 3, low: 0 });
  });

  it("a flood begins with more than ten in ten minutes and ends with fewer than five", () => {
    const ten = 10 * minute;
    const counts = [10, 11, 5, 4, 11, 3];
    const events = counts.flatMap((count, place) => burst(place * ten, count));
    const { floods, inFlood, busyPeriods } = performance(events, [], 0, 6 * ten);
    expect(floods).toEqual([
      { fromMs: ten, toMs: 3 * ten, alarms: 16 },
      { fromMs: 4 * ten, toMs: 5 * ten, alarms: 11 },
    ]);
    expect(inFlood).toBeCloseTo(0.5, 10);
    expect(busyPeriods).toBeCloseTo(2 / 6, 10);
  });

  it("takes a window of many years", () => {
    expect(performance([told(0)], [], 0, 20 * 365 * day)).toMatchObject({
      announced: 1,
      mostInTenMinutes: 1,
    });
  });

  it("three times within a minute is chattering, twice or more slowly is not", () => {
    const at = (...seconds: number[]) =>
      performance(
        seconds.map((s) => told(s * 1000)),
        [],
        0,
        day,
      ).chattering;
    expect(at(0, 30, 60)).toEqual([{ unit: "LM-01", alarm: "cavitation" }]);
    expect(at(0, 30, 61)).toEqual([]);
    expect(at(0, 30)).toEqual([]);
  });

  it("is stale after a day of standing, whether or not it became more urgent", () => {
    const stale = (...events: ReturnType<typeof told>[]) => performance(events, [], 0, 2 * day).stale.length;
    expect(stale(told(0))).toBe(1);
    expect(stale(told(day))).toBe(0);
    expect(stale(told(0), told(hour, "cleared"))).toBe(0);
  });

  it("the time to acknowledge is that of the first who did, of the raising that was meant", () => {
    const word = (atMs: number, raisedMs: number): Word => ({
      id: String(atMs),
      atMs,
      unit: "LM-01",
      alarm: "cavitation",
      action: "acknowledge",
      by: "Ann",
      raisedMs,
    });
    const events = [told(0), told(hour, "cleared"), told(2 * hour)];
    const words = [word(10 * minute, 0), word(20 * minute, 0), word(2 * hour + 30 * minute, 2 * hour)];
    expect(performance(events, words, 0, day)).toMatchObject({
      acknowledged: 2,
      acknowledgedAfterMs: { median: 20 * minute, ninetieth: 28 * minute },
    });
  });
});
