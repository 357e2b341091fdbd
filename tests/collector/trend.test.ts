import { describe, expect, it } from "vitest";
import { remember, startRecent } from "../../src/collector/recent.ts";
import { trendOf } from "../../src/collector/trend.ts";
import { signalsOf } from "../../src/fleet/signals.ts";
import { midnight, readings, unitOf } from "../support/unit-days.ts";

const hour = 3600_000;
const pressure = (seconds: number, startMs: number, kPa: (s: number) => number) =>
  readings([{ seconds, values: (s) => ({ discharge_pressure: kPa(s) }) }], 10, startMs);

describe("a unit's small trend", () => {
  it("is its discharge pressure over two hours in steps of ten minutes, the oldest first", () => {
    const recent = startRecent(signalsOf(unitOf()));
    // 80 kPa, falling by 1 kPa every ten minutes from 01:00 on.
    remember(
      recent,
      pressure(3 * 3600, midnight, (s) => (s < 3600 ? 80 : 80 - Math.floor((s - 3600) / 600))),
    );
    const trend = trendOf(recent, midnight + 3 * hour - 1);
    expect(trend?.values).toEqual([80, 79, 78, 77, 76, 75, 74, 73, 72, 71, 70, 69]);
    expect(trend?.toMs).toBe(midnight + 3 * hour);
  });

  it("leaves a gap where nothing was read, and is absent where next to nothing was", () => {
    const recent = startRecent(signalsOf(unitOf()));
    remember(
      recent,
      pressure(600, midnight, () => 80),
    );
    expect(trendOf(recent, midnight + 600_000 - 1)).toBeUndefined();
    remember(
      recent,
      pressure(600, midnight + 1200_000, () => 60),
    );
    expect(trendOf(recent, midnight + 1800_000 - 1)?.values.slice(-3)).toEqual([80, null, 60]);
    expect(trendOf(recent, midnight + 6 * hour)).toBeUndefined();
  });
});
