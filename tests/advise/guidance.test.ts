import { describe, expect, it } from "vitest";
import { cautions } from "../../src/advise/cautions.ts";
import { guidance } from "../../src/advise/guidance.ts";
import { ruleSettings, rules } from "../../src/detect/rules.ts";
import type { AlarmName, Priority } from "../../src/terms/alarms.ts";
import { unitOf } from "../support/unit-days.ts";

const raised = Object.keys(ruleSettings) as AlarmName[];
const unit = unitOf();
const at = (consequence: string) => unitOf(`{ id: LM-01, consequence: ${consequence} }`);
const soon = (alarm: AlarmName, priority: Priority, where = unit) => guidance(alarm, priority, where).howSoon;

describe("every alarm that can be raised", () => {
  it("is all of the rules' and that of silence", () => {
    expect(raised.toSorted()).toEqual([...rules.map(({ alarm }) => alarm), "readings-stale"].toSorted());
  });

  it.each(raised)("%s has its likely causes, actions and cautions, each a plain line", (alarm) => {
    const told = guidance(alarm, "high", unit);
    expect(told.likelyCauses.length).toBeGreaterThanOrEqual(2);
    expect(told.actions.length).toBeGreaterThanOrEqual(2);
    expect(told.cautions.length).toBeGreaterThanOrEqual(2);
    for (const line of [...told.likelyCauses, ...told.actions, ...told.cautions]) {
      expect(line).toMatch(/^\S[^\n]{8,200}\S$/);
    }
    expect(told.actions).not.toContain("See the maker's manual");
  });

  it.each(raised)("%s defers to the maker's manual, local code and licensed trades", (alarm) => {
    expect(guidance(alarm, "high", unit).cautions).toContain(cautions.manual);
  });

  it.each(raised)("%s suggests no remote restart", (alarm) => {
    const { howSoon, actions, likelyCauses, cautions: told } = guidance(alarm, "high", at("fish"));
    for (const line of [howSoon, ...actions, ...likelyCauses]) {
      expect(line).not.toMatch(
        /remote|from afar|re-?start|power[- ]cycle|turn (it|the unit) (back )?on|switch (it )?on/i,
      );
    }
    // A start or a reset is told only to a person who is there.
    for (const line of actions.filter((text) => /\b(start|reset|plug in)\b/i.test(text))) {
      expect(line).toMatch(/on site|fill the casing/i);
    }
    for (const line of told.filter((text) => /restart|afar/i.test(text))) expect(line).toMatch(/never/i);
  });
});

describe("how soon somebody must act", () => {
  it.each(["lost-prime", "overheating", "ozone-while-stopped"] as const)(
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

  it("of a stop hangs on what depends on the water; fish where nobody says", () => {
    expect(soon("not-running", "high", at("fish"))).toMatch(/^Now/);
    expect(soon("not-running", "high", at("irrigation"))).toMatch(/^Today/);
    expect(soon("not-running", "high", at("appearance"))).toMatch(/^Within a day/);
    expect(soon("not-running", "high", unit)).toMatch(/^Now/);
  });

  it("of a medium alarm is the next route, of a low one the next visit", () => {
    expect(soon("ozone-off", "medium")).toMatch(/^On the next route/);
    expect(soon("readings-stale", "low")).toBe("When somebody is there anyway");
  });
});

describe("cautions", () => {
  it("of a hand near the pump: unplug it and keep the plug", () => {
    for (const alarm of ["lost-prime", "overheating", "not-running", "ozone-off"] as const) {
      expect(guidance(alarm, "high", unit).cautions).toContain(cautions.unplug);
    }
  });

  it("of ozone name the limit in air and its source: 0.1 ppm, 29 CFR 1910.1000 Table Z-1", () => {
    for (const alarm of ["ozone-off", "ozone-while-stopped"] as const) {
      const text = guidance(alarm, "high", unit).cautions.join(" ");
      expect(text).toContain("0.1 ppm");
      expect(text).toContain("29 CFR 1910.1000, Table Z-1");
    }
  });

  it("of silence: it is no proof of safety", () => {
    expect(guidance("readings-stale", "medium", unit).cautions).toContain(cautions.silence);
  });

  it("an interlock is never bridged", () => {
    expect(guidance("ozone-while-stopped", "high", unit).cautions.join(" ")).toMatch(/never bridge/);
  });
});
