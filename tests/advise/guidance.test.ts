import { describe, expect, it } from "vitest";
import { cautions } from "../../src/advise/cautions.ts";
import { guidance } from "../../src/advise/guidance.ts";
import { type AlarmName, alarmNames, type Priority, priorities } from "../../src/terms/alarms.ts";
import { unitOf } from "../support/unit-days.ts";

const unit = unitOf();
const at = (consequence: string) => unitOf(`{ id: LM-01, consequence: ${consequence} }`);
const soon = (alarm: AlarmName, priority: Priority, where = unit) => guidance(alarm, priority, where).howSoon;
const told = (alarm: AlarmName) => guidance(alarm, "high", unit);

/** Alarms at which harm is done while it lasts, or somebody may come to harm. */
const pressing = [
  "lost-prime",
  "failed-to-prime",
  "cavitation",
  "discharge-open",
  "overheating",
  "overcurrent",
  "locked-rotor",
  "not-running",
  "gas-backflow-risk",
  "ozone-while-stopped",
  "ozone-without-water",
  "ozone-not-allowed",
  "ozone-in-air",
] as const satisfies readonly AlarmName[];

describe("every alarm", () => {
  it.each(alarmNames)("%s has its likely causes, actions and cautions, each a plain line", (alarm) => {
    const { howSoon, likelyCauses, actions, cautions: warned } = told(alarm);
    expect(likelyCauses.length).toBeGreaterThanOrEqual(2);
    expect(actions.length).toBeGreaterThanOrEqual(2);
    expect(warned.length).toBeGreaterThanOrEqual(2);
    for (const line of [...likelyCauses, ...actions, ...warned]) {
      expect(line).toMatch(/^\P{C}{10,200}$/u);
      expect(line).toBe(line.trim());
    }
    expect(howSoon.length).toBeLessThanOrEqual(200);
    expect(new Set(warned).size).toBe(warned.length);
  });

  it.each(alarmNames)("%s defers to the maker's manual, local code and licensed trades", (alarm) => {
    expect(told(alarm).cautions.at(-1)).toBe(cautions.manual);
    expect(cautions.manual).toMatch(/maker's manual, local code and licensed trades come first/);
  });

  it.each(alarmNames)(
    "%s suggests no restart from afar, and a start only to a person who is there",
    (alarm) => {
      const { howSoon, actions, likelyCauses, cautions: warned } = guidance(alarm, "high", at("fish"));
      for (const line of [howSoon, ...actions, ...likelyCauses]) {
        expect(line).not.toMatch(
          /remote|from afar|re-?start|power[- ]cycle|turn (it|the unit) (back )?on|switch (it )?on\b/i,
        );
      }
      for (const line of actions.filter((text) => /\b(start|reset|plug in)\b/i.test(text))) {
        expect(line).toMatch(/on site|fill the casing/i);
      }
      for (const line of warned.filter((text) => /afar/i.test(text))) expect(line).toMatch(/never/i);
    },
  );

  it.each(pressing)("%s begins with what somebody on site can do", (alarm) => {
    expect(told(alarm).actions[0]).toMatch(/^(Ask somebody|Warn everybody) on site/);
  });

  it.each(pressing.filter((alarm) => alarm !== "not-running"))(
    "%s sends somebody where nobody is",
    (alarm) => {
      expect(told(alarm).actions[0]).toMatch(/nobody there: go now/i);
    },
  );
});

describe("how soon somebody must act", () => {
  it.each(pressing.filter((alarm) => alarm !== "not-running"))(
    "is now where damage or danger is running: %s, whatever hangs on the water",
    (alarm) => {
      for (const consequence of ["fish", "irrigation", "appearance"]) {
        expect(soon(alarm, "high", at(consequence))).toMatch(/^Now: ./);
      }
    },
  );

  it("is told with its reason", () => {
    expect(soon("lost-prime", "high")).toContain("shaft seal");
    expect(soon("lost-prime", "high", at("fish"))).toContain("fish depend on this unit");
  });

  it.each(["not-running", "readings-stale"] as const)(
    "of a stop hangs on what depends on the water; fish where nobody says: %s",
    (alarm) => {
      expect(soon(alarm, "high", at("fish"))).toMatch(/^Now/);
      expect(soon(alarm, "high", at("irrigation"))).toMatch(/^Today/);
      expect(soon(alarm, "high", at("appearance"))).toMatch(/^Within a day/);
      expect(soon(alarm, "high", unit)).toMatch(/^Now/);
    },
  );

  it("of a medium alarm is the next route; within a day where fish get less water or gas by it", () => {
    expect(soon("ozone-off", "medium", at("fish"))).toMatch(/^On the next route/);
    expect(soon("suction-restricted", "medium", at("appearance"))).toMatch(/^On the next route/);
    expect(soon("suction-restricted", "medium", at("fish"))).toMatch(/^Within a day: .*fish depend/);
    expect(soon("short-cycling", "medium", at("fish"))).toMatch(/^Within a day: .*fish depend/);
  });

  it("of frost is before it comes", () => {
    expect(soon("freeze-risk", "medium")).toMatch(/^Today, before the frost/);
  });

  it("of fouling grows with its priority: the next planned visit, the week, the next route", () => {
    expect(soon("gas-pressure-drift", "prompt")).toMatch(/^With the next planned visit/);
    expect(soon("gas-pressure-drift", "low")).toMatch(/^Within the week/);
    expect(soon("gas-pressure-drift", "medium")).toMatch(/^On the next route/);
  });

  it("of a low alarm is the next visit", () => {
    expect(soon("readings-stale", "low")).toBe("When somebody is there anyway");
  });

  it("never waits longer for a more urgent priority", () => {
    const order = ["now", "soon", "next visit"];
    for (const alarm of alarmNames) {
      for (const consequence of ["fish", "irrigation", "appearance"]) {
        const places = priorities.map((p) => order.indexOf(guidance(alarm, p, at(consequence)).urgency));
        expect(places).toEqual(places.toSorted((a, b) => a - b));
      }
    }
  });
});
