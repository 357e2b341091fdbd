import { describe, expect, test } from "vitest";
import { localClock } from "../../src/fleet/local-clock.ts";

/**
 * Source: the IANA time zone database (files `northamerica`, `australasia`); "gap" and "fold" as in PEP 495
 * (2015). A wall clock shows each time of the fold twice and none of the gap.
 */
const shows = (zone: string, instant: string) =>
  new Date(localClock(zone)(Date.parse(instant))).toISOString().slice(0, 19);

describe("America/New_York changes its clocks", () => {
  test.each([
    ["2024-03-10T06:59:59Z", "2024-03-10T01:59:59", "last second before the gap"],
    ["2024-03-10T07:00:00Z", "2024-03-10T03:00:00", "first after it"],
    ["2024-03-10T07:30:00Z", "2024-03-10T03:30:00", "02:30 read with the offset before"],
    ["2024-03-10T06:30:00Z", "2024-03-10T01:30:00", "02:30 read with the offset after"],
    ["2024-11-03T05:30:00Z", "2024-11-03T01:30:00", "first pass of the fold"],
    ["2024-11-03T06:30:00Z", "2024-11-03T01:30:00", "second pass"],
    ["2024-11-03T07:00:00Z", "2024-11-03T02:00:00", "after the fold"],
  ])("%s shows %s: %s", (instant, wall) => {
    expect(shows("America/New_York", instant)).toBe(wall);
  });

  test.each([
    ["2024-03-10", 23],
    ["2024-11-03", 25],
    ["2024-07-01", 24],
  ])("%s has %i hours", (date, hours) => {
    const clock = localClock("America/New_York");
    const noon = Date.parse(`${date}T12:00:00Z`);
    let minutes = 0;
    for (let t = noon - 36 * 3_600_000; t < noon + 36 * 3_600_000; t += 60_000) {
      if (new Date(clock(t)).toISOString().startsWith(date)) minutes++;
    }
    expect(minutes).toBe(hours * 60);
  });
});

test("Australia/Lord_Howe moves by half an hour: 01:45 comes at 14:45 and at 15:15 UTC of the day before", () => {
  expect(shows("Australia/Lord_Howe", "2024-04-06T14:45:00Z")).toBe("2024-04-07T01:45:00");
  expect(shows("Australia/Lord_Howe", "2024-04-06T15:15:00Z")).toBe("2024-04-07T01:45:00");
});

test("a clock first asked at the very change still knows the time before it", () => {
  const clock = localClock("America/New_York");
  const change = Date.parse("2024-03-10T07:00:00Z");
  expect(clock(change) - clock(change - 1000)).toBe(3_601_000);
});
