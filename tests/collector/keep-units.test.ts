import { describe, expect, it, vi } from "vitest";
import { bareFleet } from "../../src/acquire/bare-unit.ts";
import { startFollowing } from "../../src/collector/following.ts";
import { noteChange, unitsToKeep } from "../../src/collector/keep-units.ts";
import { sum } from "../../src/collector/summing.ts";
import { minute } from "../../src/terms/time.ts";

const latest = { timeMs: () => 0, why: "" };
function following() {
  const { unit, fleet } = bareFleet("log", "/nowhere");
  return startFollowing(unit, fleet, latest);
}

describe("when a unit is kept", () => {
  it("a minute after it changed, whatever the fleet's clock does", () => {
    const one = following();
    expect(unitsToKeep([one])).toEqual([]);
    const start = performance.now();
    const clock = vi.spyOn(performance, "now").mockReturnValue(start);
    noteChange(one);
    clock.mockReturnValue(start + minute - 1);
    noteChange(one);
    expect(unitsToKeep([one])).toEqual([]);
    clock.mockReturnValue(start + minute);
    expect(unitsToKeep([one])).toEqual([one]);
    clock.mockRestore();
  });

  it("at once with a person's word, also where readings had changed it before", () => {
    const one = following();
    noteChange(one);
    expect(unitsToKeep([one])).toEqual([]);
    noteChange(one, true);
    expect(unitsToKeep([one])).toEqual([one]);
  });

  it("once a backlog has been read, before its sums and those of a thousand others fill the memory", () => {
    const one = following();
    const rows = 101;
    const timeMs = Float64Array.from({ length: rows }, (_, n) => n * minute);
    sum(one.summing, { rows, timeMs, columns: [new Float64Array(rows)] }, 1, 0);
    expect(unitsToKeep([one])).toEqual([one]);
    one.reading = true;
    expect(unitsToKeep([one])).toEqual([]);
  });

  it("never in the midst of a read", () => {
    const one = following();
    noteChange(one, true);
    one.reading = true;
    expect(unitsToKeep([one])).toEqual([]);
  });
});
