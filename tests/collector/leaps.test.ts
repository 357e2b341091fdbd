import { describe, expect, it } from "vitest";
import { startLeapWatch } from "../../src/collector/leaps.ts";
import { day, hour, minute, second } from "../../src/terms/time.ts";

const startMs = Date.UTC(2026, 4, 4);

/** A clock that leaps, and how far beyond the true time the watch holds a reading's time possible, in hours. */
function watched(leastNowMs = Number.NEGATIVE_INFINITY) {
  let trueMs = startMs;
  let offMs = 0;
  const watch = startLeapWatch(startMs, () => trueMs, leastNowMs);
  const beyond = () => (watch.neverBackMs(trueMs + offMs) - trueMs) / hour;
  return {
    beyond,
    pass: (ms: number) => {
      trueMs += ms;
      watch.look(trueMs + offMs);
    },
    /** The clock leaps, and a reading comes before anybody has looked at the clock. */
    leap: (ms: number) => {
      trueMs += second;
      offMs += ms;
      beyond();
      watch.look(trueMs + offMs);
    },
  };
}

describe("the time that readings cannot be ahead of", () => {
  it("is the true one again where a clock that leapt ten years forward is put right soon", () => {
    const { leap, pass, beyond } = watched();
    leap(3650 * day);
    expect(beyond()).toBe(3650 * 24);
    pass(hour);
    leap(-3650 * day);
    expect(beyond()).toBe(0);
    pass(30 * day);
    expect(beyond()).toBe(0);
  });

  it("keeps what a clock that was behind has gained, where only a second leap forward is taken back", () => {
    const { leap, pass, beyond } = watched();
    leap(3 * hour);
    pass(minute);
    leap(3650 * day);
    pass(minute);
    leap(-3650 * day);
    expect(beyond()).toBe(3);
  });

  it("stays where the clock is put back that had not leapt forward, or long before", () => {
    const { leap, pass, beyond } = watched();
    leap(-3 * hour);
    expect(beyond()).toBe(0);
    leap(6 * hour);
    pass(2 * day);
    leap(-5 * hour);
    expect(beyond()).toBe(3);
    pass(hour);
    expect(beyond()).toBe(3);
  });

  it("is no earlier than what was known to be over at the start", () => {
    const { leap, pass, beyond } = watched(startMs + 2 * hour);
    leap(10 * day);
    pass(minute);
    leap(-10 * day);
    expect(beyond()).toBe(2);
  });
});
