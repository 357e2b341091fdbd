import { describe, expect, it } from "vitest";
import { startPace } from "../../src/collector/pace.ts";

describe("the pace of reading", () => {
  it("is not told before half a second has passed", () => {
    const pace = startPace();
    expect(pace.note(0, 0)).toBeNull();
    expect(pace.note(400, 40_000)).toBeNull();
    expect(pace.note(500, 50_000)).toBe(100_000);
  });

  it("follows a disk that has become slow within about five seconds", () => {
    const pace = startPace();
    let bytes = 0;
    for (let ms = 0; ms <= 20_000; ms += 200) {
      bytes += 20_000;
      pace.note(ms, bytes);
    }
    let rate: number | null = null;
    for (let ms = 20_200; ms <= 25_400; ms += 200) {
      bytes += 2_000;
      rate = pace.note(ms, bytes);
    }
    expect(rate).toBeCloseTo(10_000, -1);
  });

  it("is none, and never below, where a log was replaced by a shorter one", () => {
    const pace = startPace();
    pace.note(0, 5_000);
    expect(pace.note(1000, 1_000)).toBe(0);
  });
});
