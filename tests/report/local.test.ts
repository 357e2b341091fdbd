import { expect, it } from "vitest";
import { hoursText, localTimes, percentText } from "../../src/report/local.ts";
import { roundNumbers, roundTimes } from "../../src/report/ticks.ts";
import { day, hour } from "../../src/terms/time.ts";

const spring = Date.parse("2026-03-08T07:30:00Z");

it("moments are those of the fleet's zone, through a change of its clock", () => {
  const times = localTimes("America/Chicago");
  expect(times.moment(spring)).toBe("8 Mar 2026 01:30");
  expect(times.moment(spring + hour)).toBe("8 Mar 2026 03:30");
  expect(localTimes("UTC", spring).moment(spring)).toBe("8 Mar 07:30");
  expect(localTimes("UTC", spring).date(spring - 365 * day)).toBe("8 Mar 2025");
});

it("a share that is not whole never reads as all or nothing", () => {
  expect([0, 0.0001, 0.4567, 0.99999, 1, null].map(percentText)).toEqual([
    "0 %",
    "0.1 %",
    "45.7 %",
    "99.9 %",
    "100 %",
    "–",
  ]);
});

it("hours are told no finer than they are known", () => {
  expect([0.25 * hour, 3.44 * hour, 612.3 * hour, null].map(hoursText)).toEqual([
    "0.3 h",
    "3.4 h",
    "612 h",
    "–",
  ]);
});

it("an axis has round numbers about all that is drawn, also about a constant", () => {
  expect(roundNumbers(8.8, 9.3)).toEqual([8.8, 9, 9.2, 9.4]);
  expect(roundNumbers(-11, 3)).toEqual([-15, -10, -5, 0, 5]);
  for (const [low, high] of [
    [9, 9],
    [0, 0],
    [-0.3, -0.3],
    [0.01, 0.013],
  ] as const) {
    const numbers = roundNumbers(low, high);
    expect(numbers[0]).toBeLessThanOrEqual(low);
    expect(numbers.at(-1)).toBeGreaterThanOrEqual(high);
    expect(numbers.length).toBeGreaterThan(1);
    expect(numbers.length).toBeLessThan(8);
  }
});

it("a time axis stands at midnights of the wall clock, also across a change", () => {
  const times = localTimes("America/Chicago");
  const fromMs = Date.parse("2026-03-06T06:00:00Z");
  const found = roundTimes({ fromMs, toMs: fromMs + 5 * day }, times);
  expect(found.map(({ text }) => text)).toEqual(["6 Mar", "7 Mar", "8 Mar", "9 Mar", "10 Mar", "11 Mar"]);
  for (const { timeMs } of found) expect(times.clock(timeMs)).toBe("00:00");
});
