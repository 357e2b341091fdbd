import { describe, expect, it } from "vitest";
import {
  clean,
  hourClean,
  lines,
  midnight,
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
const notRunning = (told: readonly string[]) => told.filter((line) => line.includes("not-running"));

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
      values: (s) => (s % 900 < 60 ? { ...stopped, motor_current: 45 } : stopped),
    };
    expect(notRunning(told(always, [hourClean, failing]))).toEqual([
      "01:01:30 raised not-running",
      "01:31:00 suppressed not-running by short-cycling",
    ]);
  });

  it("is one alarm while a protector lets the motor run for some minutes now and then", () => {
    const twice: Stretch = { seconds: 2400, values: (s) => (s % 1200 < 600 ? stopped : clean(s)) };
    const lines = notRunning(told(always, [hourClean, twice, { seconds: 600, values: clean }]));
    expect(lines).toEqual(["01:00:30 raised not-running", "01:40:00 cleared not-running"]);
  });

  it("says whether there is supply, where voltage is measured", () => {
    const unit = unitOf("{ id: LM-01, runs: always, motor: { voltage: 115 V } }");
    const message = (voltage: number) =>
      run(start(unit), {
        kind: "readings",
        batch: readings([{ seconds: 60, values: { ...stopped, voltage } }]),
      })[0].message;
    expect(message(0)).toBe("The unit should run (always) and the motor drew 0 A: no supply (0 V).");
    expect(message(118.2)).toBe(
      "The unit should run (always) and the motor drew 0 A although there is supply (118.2 V): its protector, " +
        "its switch or the motor itself keeps it from running.",
    );
  });

  it("is not raised while the service that stopped it is on record, nor by the start after it", () => {
    const service = (step: "begin" | "end", after: number) =>
      ({
        kind: "service",
        record: { unit: "LM-01", work: "repair", step, atMs: midnight + after * 1000 },
      }) as const;
    const state = start(always);
    const part = (stretch: Stretch, after: number) =>
      ({ kind: "readings", batch: readings([stretch], 10, midnight + after * 1000) }) as const;
    const findings = run(
      state,
      part(hourClean, 0),
      service("begin", 3600),
      part(stop, 3600),
      part({ seconds: 300, values: clean }, 4200),
      service("end", 4500),
      part({ seconds: 1800, values: clean }, 4500),
    );
    expect(notRunning(lines(findings))).toEqual([
      "01:00:30 suppressed not-running by service",
      "01:15:00 cleared not-running",
    ]);
  });

  it("keeps to daily windows with ten minutes' grace", () => {
    const windows = unitOf('{ id: LM-01, runs: ["00:00-01:00", "01:30-02:00"] }');
    const stopAtTheHour: Stretch[] = [hourClean, { seconds: 1800, values: stopped }];
    expect(told(windows, [...stopAtTheHour, { seconds: 1800, values: clean }])).toEqual([]);
    expect(told(windows, [...stopAtTheHour, { seconds: 4200, values: stopped }])).toEqual([
      "01:40:30 raised not-running",
      "02:10:00 cleared not-running",
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
