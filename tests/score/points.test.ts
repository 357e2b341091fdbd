import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pointCounts, pooled } from "../../src/score/points.ts";
import { activeSpells } from "../../src/score/told.ts";
import { minute } from "../../src/terms/time.ts";
import { at, told } from "./told.ts";

/** Rows a minute apart from 10:00 on; `#` where one is labelled anomalous. */
function labels(marks: string) {
  return {
    unit: "LM-01",
    timeMs: [...marks].map((_, i) => at("10:00") + i * minute),
    anomalous: [...marks].map((mark) => mark === "#"),
  };
}

function counted(marks: string, events: readonly string[], skip = 0) {
  const c = pointCounts(labels(marks), activeSpells(told(...events)), skip);
  return [c.truePositive, c.falsePositive, c.falseNegative, c.trueNegative];
}

describe("a row is called anomalous", () => {
  it("from the reading at which an alarm was raised to before the one at which it was cleared", () => {
    expect(counted("..##..", ["10:02 raised lost-prime", "10:04 cleared lost-prime"])).toEqual([2, 0, 0, 4]);
    expect(counted("..##..", ["10:03 raised lost-prime", "10:05 cleared lost-prime"])).toEqual([1, 1, 1, 3]);
  });

  it("to the end where nothing clears the alarm", () => {
    expect(counted("..####", ["10:02 raised lost-prime"])).toEqual([4, 0, 0, 2]);
  });

  it("not while the alarm is suppressed, for then its cause stands; and again when it outlives that", () => {
    const suppressed = ["10:01 suppressed overheating", "10:05 cleared overheating"];
    expect(counted("######", suppressed)).toEqual([0, 0, 6, 0]);
    const events = [
      "10:01 raised overheating",
      "10:02 suppressed overheating",
      "10:04 unsuppressed overheating",
    ];
    expect(counted("######", events)).toEqual([3, 0, 3, 0]);
  });

  it("while any of several alarms is active", () => {
    const events = [
      "10:00 raised lost-prime",
      "10:01 raised ozone-off",
      "10:02 cleared ozone-off",
      "10:04 cleared lost-prime",
    ];
    expect(counted("######", events)).toEqual([4, 0, 2, 0]);
  });

  it("from its first raising on where a file tells it twice, as one of two runs does", () => {
    const twice = ["10:01 raised lost-prime", "10:03 raised lost-prime", "10:04 cleared lost-prime"];
    expect(counted("######", twice)).toEqual([3, 0, 3, 0]);
  });

  it("neither by another unit's alarm nor by one that looks at a clock", () => {
    expect(counted("##..", ["10:00 raised lost-prime P-02", "10:00 raised clock-fault"])).toEqual([
      0, 0, 2, 2,
    ]);
  });
});

describe("counting", () => {
  it("leaves out the first rows, but not what their alarms bring", () => {
    expect(counted("..####", ["10:00 raised lost-prime"], 4)).toEqual([2, 0, 0, 0]);
    expect(counted("......", [], 9)).toEqual([0, 0, 0, 0]);
  });

  it("counts every row that is not left out once, whatever the labels and alarms", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(".", "#"), maxLength: 40 }),
        fc.array(fc.tuple(fc.nat(50), fc.constantFrom("raised", "cleared", "suppressed", "unsuppressed"))),
        fc.nat(45),
        (marks, events, skip) => {
          const lines = events.map(([m, kind]) => `10:${String(m).padStart(2, "0")} ${kind} lost-prime`);
          const sum = counted(marks, lines, skip).reduce((total, n) => total + n, 0);
          expect(sum).toBe(Math.max(0, marks.length - skip));
        },
      ),
    );
  });

  it("pools units by adding their rows", () => {
    const one = pointCounts(labels("##.."), activeSpells(told("10:01 raised lost-prime")), 0);
    expect(pooled([one, one])).toEqual({
      truePositive: 2,
      falsePositive: 4,
      falseNegative: 2,
      trueNegative: 0,
    });
  });
});
