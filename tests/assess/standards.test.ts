import { describe, expect, it } from "vitest";
import { heldAgainst, heldPriorities, type Judged, type Verdict } from "../../src/assess/standards.ts";
import type { Priority } from "../../src/terms/alarms.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { performance, told } from "../support/lives.ts";

// Figures of ANSI/ISA-18.2-2016, IEC 62682:2014, EEMUA 191, by secondary texts (from memory where `standards.ts` says so).

/** `count` alarms of as many units, evenly over a window. */
const spread = (count: number, windowMs: number, priority: Priority = "low") =>
  Array.from({ length: count }, (_, n) =>
    told((n * windowMs) / count, "raised", { unit: `LM-${n}`, priority }),
  );
const cleared = (events: ReturnType<typeof spread>) =>
  events
    .flatMap((one) => [
      one,
      told(one.timeMs + 2 * minute, "cleared", { unit: one.unit, priority: one.priority }),
    ])
    .sort((a, b) => a.timeMs - b.timeMs);

function verdict(figure: Judged, events: ReturnType<typeof spread>, windowMs: number): Verdict | undefined {
  const figures = performance(events, [], 0, windowMs);
  return heldAgainst(figures).find((held) => held.figure === figure)?.verdict;
}

describe("a figure held against the standards'", () => {
  it.each([
    [150, "within"],
    [151, "manageable"],
    [300, "manageable"],
    [301, "over"],
  ] as const)("%d alarms a day are %s", (count, is) => {
    expect(verdict("perDay", spread(count, day), day)).toBe(is);
  });

  it("a mean over less than a day says too little, whichever way it points", () => {
    expect(verdict("perHour", spread(1, 8 * hour), 8 * hour)).toBe("too few data");
    expect(verdict("perHour", spread(200, 8 * hour), 8 * hour)).toBe("too few data");
    expect(verdict("perHour", spread(12 * 24, day), day)).toBe("manageable");
  });

  it("eleven in ten minutes are too many however short the window; ten are within only over a day", () => {
    const many = (count: number) => spread(count, 10 * minute);
    expect(verdict("mostInTenMinutes", many(11), hour)).toBe("over");
    expect(verdict("mostInTenMinutes", many(10), hour)).toBe("too few data");
    expect(verdict("mostInTenMinutes", many(10), day)).toBe("within");
  });

  it("under 1 % of ten-minute periods: one of 100 is over, one of 101 is not, and fewer cannot tell", () => {
    const eleven = cleared(spread(11, 5 * minute));
    expect(verdict("busyPeriods", eleven, 99 * 10 * minute)).toBe("too few data");
    expect(verdict("busyPeriods", eleven, 100 * 10 * minute)).toBe("over");
    expect(verdict("busyPeriods", eleven, 101 * 10 * minute)).toBe("within");
  });

  it("hours with more than thirty are judged from 100 hours on", () => {
    const busy = cleared(spread(31, 30 * minute));
    expect(verdict("busyHours", busy, 99 * hour)).toBe("too few data");
    expect(verdict("busyHours", busy, 100 * hour)).toBe("over");
    expect(verdict("busyHours", busy, 101 * hour)).toBe("within");
  });

  it("four stale alarms on a day are within, five are not", () => {
    expect(verdict("mostStaleOnADay", spread(4, hour), 3 * day)).toBe("within");
    expect(verdict("mostStaleOnADay", spread(5, hour), 3 * day)).toBe("over");
  });

  it("the ten most frequent are judged from 200 alarms on: fewer cannot be within 5 %", () => {
    expect(verdict("mostFrequentShare", cleared(spread(199, day)), day)).toBe("too few data");
    expect(verdict("mostFrequentShare", cleared(spread(200, day)), day)).toBe("manageable");
    expect(verdict("mostFrequentShare", cleared(spread(1001, 7 * day)), 7 * day)).toBe("within");
  });
});

describe("shares of the priorities held against 80, 15 and 5 %", () => {
  const verdictOf = (low: number, medium: number, high: number) => {
    const events = [
      ...spread(low, day, "low").map((one) => ({ ...one, unit: `A${one.unit}` })),
      ...spread(medium, day, "medium").map((one) => ({ ...one, unit: `B${one.unit}` })),
      ...spread(high, day, "high"),
    ].sort((a, b) => a.timeMs - b.timeMs);
    return heldPriorities(performance(events, [], 0, day)).verdict;
  };

  it("are judged from 100 alarms on", () => {
    expect(verdictOf(0, 0, 99)).toBe("too few data");
    expect(verdictOf(0, 0, 100)).toBe("over");
    expect(verdictOf(80, 15, 5)).toBe("within");
  });

  it("a few more high ones may be chance; the same share of many is not", () => {
    expect(verdictOf(78, 15, 7)).toBe("within");
    expect(verdictOf(780, 150, 70)).toBe("over");
    expect(verdictOf(600, 400, 0)).toBe("over");
  });
});
