import { describe, expect, it } from "vitest";
import { cautions } from "../../src/advise/cautions.ts";
import { guidance } from "../../src/advise/guidance.ts";
import { type AlarmName, alarmNames } from "../../src/terms/alarms.ts";
import { unitOf } from "../support/unit-days.ts";

const unit = unitOf();
const warned = (alarm: AlarmName) => guidance(alarm, "high", unit).cautions;
const all = alarmNames.flatMap(warned);

describe("the trade's usual cautions", () => {
  it.each(Object.keys(cautions) as (keyof typeof cautions)[])("%s is told at some alarm", (subject) => {
    expect(all).toContain(cautions[subject]);
  });

  /** What a person must have been told, whatever the words. */
  const subjects: readonly (readonly [string, RegExp])[] = [
    ["no current does not mean safe", /no current does not mean safe/],
    ["a protector or timer may restart the motor", /protector or timer may restart/],
    ["unplug and keep the plug", /Unplug .* keep the plug with you/],
    ["a protected outlet that trips again is not held in", /trips again is not held in/],
    ["keep people out of the water", /keep people out of the water/],
    ["call an electrician", /call a licensed electrician/],
    ["no extension cords", /no extension cords/],
    ["a pump that ran dry holds scalding water", /ran dry may hold scalding water/],
    ["relieve gas and water pressure before opening", /Relieve gas and water pressure before/],
    ["ozone off, from upwind, wait, do not lean in", /Ozone off first.*upwind, wait, do not lean in/],
    ["smell is no gauge for ozone", /Smell is no gauge/],
    ["0.1 ppm is the limit in air, with its source", /0\.1 ppm .*29 CFR 1910\.1000, Table Z-1/],
    ["an interlock is never bridged", /interlock .* never bridge/],
    ["oxygen: no oil, grease or flame", /Oxygen.*no oil, grease or flame/],
    ["a vault is a confined space", /vault .*confined space/],
    ["never mix cleaners, bleach with acid or ammonia", /Never mix cleaners: bleach with acid or ammonia/],
    ["nor peroxide with vinegar", /nor peroxide with vinegar/],
    ["gloves and goggles", /Gloves and goggles/],
    ["rinse water by local rule, not into the pond", /rinse water .*local rules.*not into the pond/],
    ["alone or at night: life jacket, tell someone", /night by water: life jacket, and tell someone/],
    ["not in lightning", /Not in lightning/],
    ["aeration weakens ice", /Aeration weakens ice/],
    ["maker, code and trades come first", /maker's manual, local code and licensed trades come first/],
  ];

  it.each(subjects)("%s", (_subject, words) => {
    expect(all.some((line) => words.test(line))).toBe(true);
  });
});

describe("a caution stands where its danger is", () => {
  it("of a hand near the pump, wherever it is to be opened or turned", () => {
    for (const alarm of alarmNames) {
      const does = guidance(alarm, "high", unit).actions.join(" ");
      if (/unplug|open it|by hand|clean the/i.test(does) && !alarm.startsWith("ozone-")) {
        expect(warned(alarm), alarm).toContain(cautions.unplug);
      }
    }
  });

  it("of cleaners, wherever something is cleaned with one", () => {
    const cleaned = alarmNames.filter((alarm) =>
      /cleaner/.test(guidance(alarm, "high", unit).actions.join(" ")),
    );
    expect(cleaned).toEqual(["discharge-restricted", "gas-pressure-drift", "service-overdue"]);
    for (const alarm of cleaned) {
      for (const subject of ["neverMix", "gloves", "rinseWater", "relieve", "ozone", "unplug"] as const)
        expect(warned(alarm)).toContain(cautions[subject]);
    }
  });

  it("of ozone, at every ozone alarm and where the gas line is opened", () => {
    for (const alarm of alarmNames.filter((name) => /^(ozone|gas)-/.test(name))) {
      expect(warned(alarm), alarm).toContain(cautions.ozone);
    }
  });

  it("of a pump that is opened hot at suction-restricted, of wiring at ozone-off, of gas and vault at a service", () => {
    expect(warned("suction-restricted")).toEqual(expect.arrayContaining([cautions.scald, cautions.ozone]));
    expect(warned("ozone-off")).toContain(cautions.electrician);
    expect(warned("service-overdue")).toEqual(expect.arrayContaining([cautions.oxygenFeed, cautions.vault]));
  });

  it("of oxygen, at every alarm of the gas feed", () => {
    for (const alarm of alarmNames.filter((name) => name.startsWith("gas-"))) {
      expect(warned(alarm), alarm).toContain(cautions.oxygenFeed);
    }
  });

  it("of a restart, wherever the motor may start by itself", () => {
    for (const alarm of [
      "overheating",
      "overcurrent",
      "locked-rotor",
      "not-running",
      "short-cycling",
    ] as const) {
      expect(warned(alarm), alarm).toContain(cautions.restart);
    }
  });

  it("of silence, wherever readings are missing or not to be believed", () => {
    for (const alarm of ["sensor-fault", "readings-stale", "clock-fault"] as const) {
      expect(warned(alarm), alarm).toContain(cautions.silence);
    }
  });
});
