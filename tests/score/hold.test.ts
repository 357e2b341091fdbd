import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hold } from "../../src/score/hold.ts";
import type { Told } from "../../src/score/told.ts";
import type { Fault } from "../../src/score/truth.ts";
import { minute } from "../../src/terms/time.ts";
import { midnight } from "../support/unit-days.ts";
import { fault, told } from "./told.ts";

/** What became of the faults (minutes to the alarm, or `missed`) and of the alarms. */
function outcome(faults: readonly string[], events: readonly string[]) {
  const held = hold(faults.map(fault), told(...events));
  return {
    faults: held.faults.map(({ delayMs }) => (delayMs === null ? "missed" : delayMs / minute)),
    alarms: held.raises.map(({ as }) => as),
  };
}

describe("a fault is caught by its own alarm on its own unit", () => {
  it.each([
    ["at its very start", "10:00 raised lost-prime", [0], ["catch"]],
    ["while it lasts", "10:03 raised lost-prime", [3], ["catch"]],
    ["ten minutes after its end at the latest", "11:10 raised lost-prime", [70], ["catch"]],
    ["when a cause had suppressed its alarm and is gone", "10:40 unsuppressed lost-prime", [40], ["catch"]],
    [
      "not eleven minutes after: then it is a companion",
      "11:11 raised lost-prime",
      ["missed"],
      ["companion"],
    ],
    ["not before it began: then the alarm is false", "09:59 raised lost-prime", ["missed"], ["false"]],
    ["not by another alarm, which is a companion", "10:05 raised overheating", ["missed"], ["companion"]],
    ["not at another unit, where the alarm is false", "10:05 raised lost-prime P-02", ["missed"], ["false"]],
    ["not by an alarm that only ends", "10:05 cleared lost-prime", ["missed"], []],
    ["not by an alarm that is suppressed", "10:05 suppressed lost-prime", ["missed"], []],
  ])("%s", (_, event, faults, alarms) => {
    expect(outcome(["10:00-11:00 lost-prime"], [event])).toEqual({ faults, alarms });
  });

  it("a gas pressure that drifts has a day more", () => {
    const drift = ["00:00-01:00 gas-pressure-drift"];
    expect(outcome(drift, ["25:00 raised gas-pressure-drift"]).faults).toEqual([1500]);
    expect(outcome(drift, ["25:01 raised gas-pressure-drift"])).toEqual({
      faults: ["missed"],
      alarms: ["false"],
    });
    // Once more within that day is no false alarm, though half an hour has long passed.
    expect(
      outcome(drift, ["00:30 raised gas-pressure-drift", "20:00 raised gas-pressure-drift"]).alarms,
    ).toEqual(["catch", "companion"]);
  });
});

describe("another alarm is a companion up to half an hour after a fault", () => {
  it.each([
    ["11:30 raised overheating", "companion"],
    ["11:31 raised overheating", "false"],
    ["11:30 raised readings-stale", "companion"],
  ])("%s is %s", (event, as) => {
    expect(outcome(["10:00-11:00 lost-prime"], [event]).alarms).toEqual([as]);
  });
});

describe("two faults of one name at one unit", () => {
  const two = ["10:00-10:20 lost-prime", "10:15-10:40 lost-prime"];

  it("need an alarm each: one alarm catches the fault whose time runs out first", () => {
    expect(outcome(two, ["10:18 raised lost-prime"])).toEqual({ faults: [18, "missed"], alarms: ["catch"] });
    expect(outcome(two, ["10:18 raised lost-prime", "10:25 raised lost-prime"]).faults).toEqual([18, 10]);
  });

  it("an alarm that stands since before the second one leaves that one missed, and says so", () => {
    const held = hold(
      ["10:00-10:20 lost-prime", "12:00-12:20 lost-prime"].map(fault),
      told("10:01 raised lost-prime", "12:10 cleared lost-prime"),
    );
    expect(held.faults.map(({ delayMs, alreadyActive }) => [delayMs, alreadyActive])).toEqual([
      [minute, false],
      [null, true],
    ]);
  });

  it("an alarm that was cleared or suppressed before the fault was not active already", () => {
    for (const end of ["cleared", "suppressed"]) {
      const events = told("10:01 raised lost-prime", `11:00 ${end} lost-prime`);
      const held = hold([fault("12:00-12:20 lost-prime")], events);
      expect(held.faults[0].alreadyActive).toBe(false);
    }
  });
});

describe("the first alarm of a fault", () => {
  const first = (faults: readonly string[], events: readonly string[]) =>
    hold(faults.map(fault), told(...events)).faults.map((held) => held.first);

  it("may be another than its own", () => {
    expect(
      first(
        ["10:00-11:00 suction-restricted"],
        ["10:04 raised lost-prime", "10:20 raised suction-restricted"],
      ),
    ).toEqual(["lost-prime"]);
  });

  it("is not the one that caught another fault at the unit, and none where nothing else came", () => {
    expect(
      first(
        ["10:00-11:00 lost-prime", "10:00-11:00 ozone-off"],
        ["10:01 raised lost-prime", "10:05 raised ozone-off"],
      ),
    ).toEqual(["lost-prime", "ozone-off"]);
    expect(first(["10:00-11:00 lost-prime", "10:00-11:00 ozone-off"], ["10:01 raised lost-prime"])).toEqual([
      "lost-prime",
      null,
    ]);
  });

  it("leaves out alarms that look at a clock", () => {
    expect(
      first(["10:00-11:00 lost-prime"], ["10:01 raised readings-stale", "10:05 raised lost-prime"]),
    ).toEqual(["lost-prime"]);
  });
});

const small = { min: 0, max: 90 };
const anyFaults = fc.array(
  fc.record({
    start: fc.integer(small),
    lasts: fc.integer(small),
    alarm: fc.constantFrom("lost-prime", "ozone-off"),
  }),
  { maxLength: 5 },
);
const anyTold = fc.array(
  fc.record({ at: fc.integer({ min: 0, max: 200 }), alarm: fc.constantFrom("lost-prime", "ozone-off") }),
  { maxLength: 5 },
);
const faultsOf = (list: readonly { start: number; lasts: number; alarm: string }[]): Fault[] =>
  list.map(({ start, lasts, alarm }) => ({
    unit: "LM-01",
    alarm: alarm as Fault["alarm"],
    startMs: midnight + start * minute,
    endMs: midnight + (start + lasts) * minute,
  }));
const toldOf = (list: readonly { at: number; alarm: string }[]): Told[] =>
  list
    .map(({ at, alarm }) => ({
      unit: "LM-01",
      alarm: alarm as Told["alarm"],
      kind: "raised" as const,
      priority: "high" as const,
      timeMs: midnight + at * minute,
    }))
    .sort((a, b) => a.timeMs - b.timeMs);

/** The most faults that any assignment of alarms can catch, by trying all. */
function mostCaught(faults: readonly Fault[], raises: readonly Told[]): number {
  const [raise, ...rest] = raises;
  if (raise === undefined) return 0;
  const tried = faults
    .filter(
      ({ alarm, startMs, endMs }) =>
        alarm === raise.alarm && raise.timeMs >= startMs && raise.timeMs <= endMs + 10 * minute,
    )
    .map(
      (taken) =>
        1 +
        mostCaught(
          faults.filter((other) => other !== taken),
          rest,
        ),
    );
  return Math.max(mostCaught(faults, rest), ...tried);
}

describe("whatever the faults and alarms", () => {
  it("no other choice of who caught what catches more, and the order of the truth file does not matter", () => {
    fc.assert(
      fc.property(anyFaults, anyTold, (someFaults, someTold) => {
        const [faults, raises] = [faultsOf(someFaults), toldOf(someTold)];
        const caught = (list: readonly Fault[]) =>
          hold(list, raises).faults.filter(({ delayMs }) => delayMs !== null).length;
        expect(caught(faults)).toBe(mostCaught(faults, raises));
        expect(caught(faults.toReversed())).toBe(caught(faults));
      }),
    );
  });

  it("each caught fault has one catching alarm, and each alarm is one of three things", () => {
    fc.assert(
      fc.property(anyFaults, anyTold, (someFaults, someTold) => {
        const { faults, raises } = hold(faultsOf(someFaults), toldOf(someTold));
        const caught = faults.filter(({ delayMs }) => delayMs !== null).length;
        expect(raises.filter(({ as }) => as === "catch")).toHaveLength(caught);
        expect(raises).toHaveLength(someTold.length);
      }),
    );
  });
});
