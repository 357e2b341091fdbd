import { describe, expect, it } from "vitest";
import { readings, run, type Stretch, start, told, unitOf, type Values } from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, runs: always, ozone: none, motor: { full_load_current: 9.8 A } }");
const stopped: Values = { motor_current: 0, discharge_pressure: 0 };
const running: Values = { motor_current: 9.3, discharge_pressure: 86 };
const starting: Values = { motor_current: 52, discharge_pressure: 0 };
const rest = (seconds: number): Stretch => ({ seconds, values: stopped });
const held = (seconds: number): Stretch => ({ seconds, values: starting });
const good = (seconds: number): Stretch => ({ seconds, values: running });

describe("locked-rotor", () => {
  it("is raised where starting current persists for more than five seconds", () => {
    expect(told(unit, [rest(10), held(20)], 1)).toEqual(["00:00:15 raised locked-rotor"]);
    expect(told(unit, [rest(10), held(20)], 2)).toEqual(["00:00:16 raised locked-rotor"]);
  });

  it("says the current and for how long", () => {
    const [finding] = run(start(unit), { kind: "readings", batch: readings([rest(10), held(20)], 1) });
    expect(finding.message).toBe(
      "The motor still drew its starting current 5 s after its start: 52 A (running is under 29.4 A). It does not turn.",
    );
    expect(finding.evidence).toEqual({
      motor_current: { value: 52, limit: 29.4, unit: "A" },
      starting_for: { value: 5, limit: 5, unit: "s" },
    });
  });

  it("is one alarm while the protector trips and closes again, and suppresses what comes of it", () => {
    const tries = Array.from({ length: 4 }, () => [held(20), rest(400)]).flat();
    expect(told(unit, [good(60), ...tries], 2)).toEqual([
      "00:01:06 raised locked-rotor",
      "00:01:50 suppressed not-running by locked-rotor",
      "00:15:20 suppressed short-cycling by locked-rotor",
    ]);
  });

  it("clears when the motor runs again", () => {
    expect(told(unit, [rest(10), held(20), rest(60), good(900)], 2)).toEqual([
      "00:00:16 raised locked-rotor",
      "00:00:30 suppressed not-running by locked-rotor",
      "00:11:30 cleared locked-rotor",
      "00:11:30 cleared not-running",
    ]);
  });

  it("is not raised by usual starts, however often", () => {
    const starts = Array.from({ length: 5 }, () => [held(3), good(600), rest(60)]).flat();
    const byHand = unitOf("{ id: LM-01, ozone: none, motor: { full_load_current: 9.8 A } }");
    expect(told(byHand, starts, 1)).toEqual([]);
  });

  it("is quiet where readings are too far apart to show a start", () => {
    const every10: Stretch[] = [rest(600), held(60), rest(600)];
    expect(told(unit, every10, 10).filter((line) => line.includes("locked"))).toEqual([]);
  });
});
