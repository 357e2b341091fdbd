import { describe, expect, it, vi } from "vitest";
import { bareFleet } from "../../src/acquire/bare-unit.ts";
import { startFollowing } from "../../src/collector/following.ts";
import { noteChange, unitsToKeep } from "../../src/collector/keep-units.ts";
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

  it("never in the midst of a read", () => {
    const one = following();
    noteChange(one, true);
    one.reading = true;
    expect(unitsToKeep([one])).toEqual([]);
  });
});
