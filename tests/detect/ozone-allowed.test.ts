import { describe, expect, it } from "vitest";
import { but, clean, hourClean, type Stretch, told, unitOf } from "../support/unit-days.ts";

const without: Stretch = { seconds: 3600, values: but({ ozone: 0 }) };

describe("ozone not allowed", () => {
  it("is raised half a minute after the cell of a bypassed unit came on", () => {
    const on: Stretch = { seconds: 600, values: clean };
    expect(told(unitOf("{ id: LM-01, ozone: bypassed }"), [without, on, without])).toEqual([
      "01:00:30 raised ozone-not-allowed",
      "01:10:30 cleared ozone-not-allowed",
    ]);
  });

  it("is not raised by a status that flickers for two readings, nor by a cell in fault that feeds nothing", () => {
    const unit = unitOf("{ id: LM-01, ozone: bypassed }");
    const flicker: Stretch = { seconds: 3600, values: (s) => ({ ...clean(s), ozone: s % 600 < 20 ? 1 : 0 }) };
    expect(told(unit, [without, flicker])).toEqual([]);
    expect(told(unit, [without, { seconds: 600, values: but({ ozone: 2 }) }])).toEqual([]);
  });

  it("is quiet where ozone is fitted", () => {
    expect(told(unitOf(), [hourClean])).toEqual([]);
  });
});

describe("ozone in air", () => {
  const air = (ppm: number, seconds = 900): Stretch => ({ seconds, values: but({ ozone_in_air: ppm }) });

  it("is raised at 0.1 ppm, OSHA 29 CFR 1910.1000 Table Z-1, and not just below it", () => {
    expect(told(unitOf(), [air(0.02), air(0.099)])).toEqual([]);
    expect(told(unitOf(), [air(0.02), air(0.1)])).toEqual(["00:15:30 raised ozone-in-air"]);
  });

  it("is raised where the motor stands still too", () => {
    const stopped = { motor_current: 0, discharge_pressure: 0, ozone: 0 };
    expect(told(unitOf(), [{ seconds: 600, values: { ...stopped, ozone_in_air: 0.2 } }])).toEqual([
      "00:00:30 raised ozone-in-air",
    ]);
  });

  it("clears once the air has stayed a fifth below the limit for five minutes", () => {
    expect(told(unitOf(), [air(0.2), air(0.09), air(0.05)])).toEqual([
      "00:00:30 raised ozone-in-air",
      "00:35:00 cleared ozone-in-air",
    ]);
  });

  it("takes a lower limit and refuses a higher one", () => {
    const lower = unitOf("{ id: LM-01, limits: { ozone-in-air: { limit: 0.05 ppm } } }");
    expect(told(lower, [air(0.06)])).toEqual(["00:00:30 raised ozone-in-air"]);
    expect(() => unitOf("{ id: LM-01, limits: { ozone-in-air: { limit: 0.2 ppm } } }")).toThrow("0.1 ppm");
  });
});
