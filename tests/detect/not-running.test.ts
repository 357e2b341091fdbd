import { describe, expect, it } from "vitest";
import {
  clean,
  hourClean,
  readings,
  run,
  type Stretch,
  start,
  told,
  unitOf,
  type Values,
} from "../support/unit-days.ts";

const stopped: Values = {
  motor_current: 0.02,
  motor_temperature: 50,
  suction_pressure: -1,
  discharge_pressure: 0,
  gas_pressure: 0,
  ozone: 0,
};
const stop: Stretch = { seconds: 600, values: stopped };
const always = unitOf("{ id: LM-01, runs: always }");

describe("not running", () => {
  it("is raised where the unit runs always and draws no current", () => {
    const [finding] = run(start(always), { kind: "readings", batch: readings([hourClean, stop]) });
    expect(finding).toMatchObject({ alarm: "not-running", event: "raised", priority: "high" });
    expect(new Date(finding.timeMs).toISOString()).toBe("2026-05-04T01:00:30.000Z");
    expect(finding.message).toBe("The unit should run (always) and the motor drew 0 A.");
  });

  it("is one alarm where starts fail: runs shorter than the off-delay do not clear it", () => {
    const failing: Stretch = {
      seconds: 3600,
      values: (s) => (s % 300 < 60 ? { ...stopped, motor_current: 45 } : stopped),
    };
    expect(told(always, [hourClean, failing])).toEqual(["01:01:30 raised not-running"]);
  });

  it("keeps to daily windows with ten minutes' grace", () => {
    const windows = unitOf('{ id: LM-01, runs: ["00:00-01:00", "01:30-02:00"] }');
    const stopAtTheHour: Stretch[] = [hourClean, { seconds: 1800, values: stopped }];
    expect(told(windows, [...stopAtTheHour, { seconds: 1800, values: clean }])).toEqual([]);
    expect(told(windows, [...stopAtTheHour, { seconds: 3600, values: stopped }])).toEqual([
      "01:40:30 raised not-running",
      "02:02:00 cleared not-running",
    ]);
  });

  it("goes by the run command where the log has one", () => {
    const commanded = (run_command: number): Stretch => ({
      seconds: 600,
      values: { ...stopped, run_command },
    });
    expect(told(unitOf(), [hourClean, commanded(0)])).toEqual([]);
    expect(told(unitOf(), [hourClean, commanded(1)])).toEqual(["01:00:30 raised not-running"]);
  });

  it("is quiet where nobody says when the unit should run", () => {
    expect(told(unitOf(), [hourClean, stop])).toEqual([]);
  });

  it("is not raised out of season", () => {
    const summer = unitOf("{ id: LM-01, runs: always, season: 06-01..09-15 }");
    expect(told(summer, [hourClean, stop])).toEqual([]);
  });
});
