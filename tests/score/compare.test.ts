import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compare } from "../../src/score/compare.ts";
import { told } from "./told.ts";

/** What compare tells of one alarm: how often in A and B, and the clock times of what is only in one. */
function compared(a: readonly string[], b: readonly string[]) {
  return compare(told(...a), told(...b)).map((row) => [
    row.alarm,
    row.a,
    row.b,
    row.onlyA.length,
    row.onlyB.length,
  ]);
}

describe("two runs", () => {
  it("an alarm at one unit at most ten minutes apart is the same", () => {
    expect(compared(["10:00 raised lost-prime"], ["10:10 raised lost-prime"])).toEqual([
      ["lost-prime", 1, 1, 0, 0],
    ]);
    expect(compared(["10:00 raised lost-prime"], ["10:11 raised lost-prime"])).toEqual([
      ["lost-prime", 1, 1, 1, 1],
    ]);
  });

  it("at another unit or of another name it is another", () => {
    expect(compared(["10:00 raised lost-prime"], ["10:00 raised lost-prime P-02"])).toEqual([
      ["lost-prime", 1, 1, 1, 1],
    ]);
    expect(compared(["10:00 raised ozone-off"], ["10:00 raised lost-prime"])).toEqual([
      ["lost-prime", 0, 1, 0, 1],
      ["ozone-off", 1, 0, 1, 0],
    ]);
  });

  it("each alarm answers one only; ends of alarms do not count, an unsuppressed one does", () => {
    const one = ["10:00 raised lost-prime", "10:05 cleared lost-prime"];
    expect(compared(one, [...one, "10:08 raised lost-prime"])).toEqual([["lost-prime", 1, 2, 0, 1]]);
    expect(compared(one, ["10:02 unsuppressed lost-prime"])).toEqual([["lost-prime", 1, 1, 0, 0]]);
  });

  it("a run differs in nothing from itself, and exchanging two exchanges what is only in each", () => {
    const events = fc
      .array(
        fc.record({
          m: fc.nat(59),
          alarm: fc.constantFrom("lost-prime", "ozone-off"),
          unit: fc.constantFrom("P", "Q"),
        }),
        { maxLength: 12 },
      )
      .map((list) =>
        list.map(({ m, alarm, unit }) => `10:${String(m).padStart(2, "0")} raised ${alarm} ${unit}`),
      );
    fc.assert(
      fc.property(events, events, (a, b) => {
        for (const row of compared(a, a)) expect(row.slice(3)).toEqual([0, 0]);
        expect(compared(b, a)).toEqual(compared(a, b).map(([name, x, y, p, q]) => [name, y, x, q, p]));
      }),
    );
  });
});
