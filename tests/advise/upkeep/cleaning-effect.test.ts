import { describe, expect, it } from "vitest";
import { cleaningEffect } from "../../../src/advise/upkeep/cleaning-effect.ts";
import { hour } from "../../../src/terms/time.ts";

const from = Date.parse("2026-05-04T00:00:00Z");
const pressure = { clean: 70, rises: true };

/** 48 hours: gas at `before` for a day, then cleaned, then at `after`; the motor runs but for the hours that stand. */
function hours(before: number, after: number, stands: (hour: number) => boolean = () => false) {
  const each = Array.from({ length: 48 }, (_, i) => i);
  return {
    fromMs: from,
    leastA: each.map((i) => (stands(i) ? 0 : 9)),
    gas: each.map((i) => (stands(i) ? 0 : i < 24 ? before : after)),
  };
}
const cleanedMs = from + 24 * hour;
const judged = (...of: Parameters<typeof hours>) =>
  cleaningEffect(hours(...of), 2, pressure, cleanedMs, cleanedMs);

describe("whether a cleaning worked", () => {
  it("it did where gas pressure is back at its clean level", () => {
    expect(judged(84, 70.5)).toEqual({ before: 84, after: 70.5, clean: 70, verdict: "worked" });
  });

  it("it did not where more than half of the growth is left", () => {
    expect(judged(84, 78)?.verdict).toBe("did not work");
    expect(judged(84, 76)?.verdict).toBe("worked");
  });

  it("nothing is told of a line that was hardly fouled", () => {
    expect(judged(72, 72)?.verdict).toBe("nothing to tell");
  });

  it("nothing is told before it has run for some hours since", () => {
    expect(judged(84, 70, (i) => i > 28)).toBeNull();
    expect(judged(84, 70, (i) => i > 29)).not.toBeNull();
  });

  it("a trial run between the beginning and the end of the work counts for neither side", () => {
    const each = {
      ...hours(84, 70),
      gas: hours(84, 70).gas.map((gas, i) => (i >= 24 && i < 28 ? 300 : gas)),
    };
    const effect = cleaningEffect(each, 2, pressure, cleanedMs, cleanedMs + 4 * hour);
    expect(effect).toMatchObject({ before: 84, after: 70 });
    const short = cleaningEffect(each, 2, pressure, cleanedMs, cleanedMs + 19 * hour);
    expect(short).toBeNull();
  });

  it("hours in which it stood count for nothing", () => {
    expect(judged(84, 70, (i) => i % 2 === 0)).toMatchObject({ before: 84, after: 70 });
  });

  it("a regulated feed shows it by its flow, which falls as the line fouls", () => {
    const flow = { clean: 10, rises: false };
    expect(cleaningEffect(hours(7, 9.8), 2, flow, cleanedMs, cleanedMs)?.verdict).toBe("worked");
    expect(cleaningEffect(hours(7, 7.5), 2, flow, cleanedMs, cleanedMs)?.verdict).toBe("did not work");
  });
});
