import { describe, expect, it } from "vitest";
import { clean, hourClean, type Stretch, told, unitOf, type Values } from "../support/unit-days.ts";

const unit = unitOf();
/** Stopped; motor and air fall by `perHourK` from where they start. */
function standing(seconds: number, values: (hours: number) => Values): Stretch {
  return {
    seconds,
    values: (s) => ({ motor_current: 0, discharge_pressure: 0, ozone: 0, ...values(s / 3600) }),
  };
}
const withAir = (stretch: Stretch, airC: number): Stretch => ({
  ...stretch,
  values: (s) => ({ ...clean(s), ambient_temperature: airC }),
});

describe("freeze risk", () => {
  it("is raised at a unit that has stood still for half an hour in air at 2 °C", () => {
    const cold = standing(3600, () => ({ ambient_temperature: 2 }));
    expect(told(unit, [withAir(hourClean, 8), cold])).toEqual(["01:35:00 raised freeze-risk"]);
  });

  it("is not raised while the pump runs, nor by a short stop, nor in air at 3.5 °C", () => {
    const frost = withAir({ seconds: 3600, values: clean }, -5);
    const pause = standing(1500, () => ({ ambient_temperature: -5 }));
    expect(told(unit, [frost, pause, frost])).toEqual([]);
    expect(told(unit, [standing(7200, () => ({ ambient_temperature: 3.5 }))])).toEqual([]);
  });

  it("waits until the motor has cooled, where that is measured: cold air alone freezes nothing within an hour", () => {
    const cooling = standing(4 * 3600, (h) => ({ ambient_temperature: -5, motor_temperature: 40 - 15 * h }));
    // 2.5 °C after 37.5/15 h.
    expect(told(unit, [cooling], 60)).toEqual(["02:35:00 raised freeze-risk"]);
  });

  it("asks the motor where there is no ambient thermometer, once it has stood for four hours", () => {
    const cooling = standing(6 * 3600, (h) => ({ motor_temperature: Math.max(1, 50 - 25 * h) }));
    expect(told(unit, [cooling], 60)).toEqual(["04:05:00 raised freeze-risk"]);
    const mild = standing(6 * 3600, (h) => ({ motor_temperature: Math.max(6, 50 - 25 * h) }));
    expect(told(unit, [mild], 60)).toEqual([]);
  });

  it("is over half an hour after the pump runs again or the air has warmed past 3 °C", () => {
    const night = standing(8 * 3600, (h) => ({ ambient_temperature: h < 3 ? -2 : h - 1.5 }));
    expect(told(unit, [night], 60)).toEqual(["00:35:00 raised freeze-risk", "05:01:00 cleared freeze-risk"]);
  });

  it("is quiet out of season: a unit that is laid up has been drained", () => {
    const summer = unitOf("{ id: LM-01, season: 06-01..09-15 }");
    expect(told(summer, [standing(7200, () => ({ ambient_temperature: -8 }))])).toEqual([]);
  });
});
