import { describe, expect, it } from "vitest";
import { visitBesideLogger } from "../../src/commands/beside-logger.ts";
import { gaugesOf } from "../../src/commands/hand-gauges.ts";
import { suctionCaution } from "../../src/fleet/suction-gauge.ts";
import { insertSummaries, type StepMs } from "../../src/store/summaries.ts";
import { channelIndex } from "../../src/terms/channels.ts";
import { hour, minute } from "../../src/terms/time.ts";
import { fleetFile } from "../support/fleets.ts";
import { emptyState } from "../support/kept.ts";
import { fleetOf } from "../support/played.ts";

const [unit, bare, lifting] = fleetOf(
  fleetFile([
    "{ id: A, motor: { full_load_current: 9.8 A } }",
    "{ id: B }",
    "{ id: C, piping: { suction_lift: 5 ft }, commissioning: { suction_pressure: 9 kPa } }",
  ]),
  "",
).units;

describe("what a person reads at a gauge", () => {
  it("is taken in the gauge's own unit; mercury at the suction is a vacuum", () => {
    // 1 inHg is 3.386389 kPa, 1 psi 6.894757 kPa (NIST SP 811, appendix B.8).
    const gauges = gaugesOf(
      [
        "motor_current=7.1A",
        "Suction Pressure = 8 inHg",
        "discharge-pressure: 12 psi",
        "gas_pressure=24.2 kPa",
      ],
      unit,
    );
    expect(gauges.motor_current).toBe(7.1);
    expect(gauges.suction_pressure).toBeCloseTo(-27.0911, 4);
    expect(gauges.discharge_pressure).toBeCloseTo(82.7371, 4);
    expect(gauges.gas_pressure).toBe(24.2);
    expect(gaugesOf(["suction_pressure=-203.2 mmHg"], unit).suction_pressure).toBeCloseTo(-27.0911, 3);
    expect(gaugesOf(["suction_pressure=3 psi"], unit).suction_pressure).toBeCloseTo(20.684, 3);
  });

  it.each([
    [["motor_current"], "write the channel and what it shows: motor_current=7.1A"],
    [["motor_curent=7"], "'motor_curent' is no channel that a gauge shows; write motor_current"],
    [["ozone=on"], "'ozone' is no channel that a gauge shows"],
    [["motor_current=71A"], "--reading motor_current: '71A' is too large; write 29.4 A or less"],
    [["discharge_pressure=7.1A"], "--reading discharge_pressure: '7.1A' is not a pressure; write 80 kPa"],
    [["suction_pressure=40 inHg"], "'-40 inHg' is too small"],
    [["flow=7 gpm", "flow=8 gpm"], "flow is told twice"],
    [
      ["suction_pressure=7"],
      "'7' has no unit; write suction_pressure=7kPa or suction_pressure=7psi or suction_pressure=7inHg",
    ],
  ])("%j is refused in one line that says what to write", (typed, says) => {
    expect(() => gaugesOf(typed, unit)).toThrow(says);
  });

  it("is a vacuum at a pump that lifts its water, and refused or warned of above zero", () => {
    const why = "where by suction_lift the pump lifts its water";
    expect(() => gaugesOf(["suction_pressure=7 kPa"], lifting)).toThrow(why);
    expect(gaugesOf(["suction_pressure=9 inHg"], lifting).suction_pressure).toBeCloseTo(-30.4775, 4);
    expect(suctionCaution(lifting)).toContain(why);
    expect([unit, bare].map(suctionCaution)).toEqual([undefined, undefined]);
  });

  it("of a motor without a nameplate is bounded by what an outlet can feed", () => {
    expect(gaugesOf(["motor_current=49A"], bare)).toEqual({ motor_current: 49 });
    expect(() => gaugesOf(["motor_current=71A"], bare)).toThrow("write 50 A or less");
  });
});

it("a gauge stands beside the logger of that time, by the minute while that is kept, else by the hour", async () => {
  const { db } = await emptyState();
  const atMs = Date.UTC(2026, 4, 4, 9, 20, 30);
  const column = (mean: number) => Float32Array.of(mean);
  const kept = (stepMs: StepMs, signal: number, mean: number) => ({
    stepMs,
    fromMs: Math.floor(atMs / stepMs) * stepMs,
    signals: [{ signal, min: column(mean), mean: column(mean), max: column(mean) }],
  });
  const current = channelIndex.motor_current;
  insertSummaries(db, "A", [kept(minute, current, 7.5), kept(hour, current, 6)]);
  insertSummaries(db, "A", [kept(hour, channelIndex.water_temperature, 17)]);
  const visit = { gauges: { motor_current: 7.1, flow: 100 }, readings: { waterTemperatureC: 18 } };
  expect(visitBesideLogger(visit, "A", atMs, db).logged).toEqual({
    motor_current: { mean: 7.5, spanMs: minute },
    water_temperature: { mean: 17, spanMs: hour },
  });
  const before = { ...visit, readMs: atMs - 5 * minute };
  expect(visitBesideLogger(before, "A", atMs, db).logged?.motor_current).toEqual({ mean: 6, spanMs: hour });
  expect(visitBesideLogger(visit, "B", atMs, db)).toBe(visit);
  db.close();
});
