import { describe, expect, it, test } from "vitest";
import { readFleet } from "../../src/fleet/read.ts";
import { playRecordedDay, startDemoUnit } from "../../src/simulate/demo-fleet.ts";
import { demoUnits } from "../../src/simulate/demo-units.ts";
import { demoFleetFile } from "../../src/simulate/fleet-file.ts";
import { judgeSite } from "../../src/site/judge.ts";
import { amountsIn } from "../../src/site/line.ts";
import { but, known, knownBut, lineOf } from "../support/sites.ts";

describe("at commissioning", () => {
  // So wide a pipe that neither friction nor velocity shows: 1.5 m of water at 20 °C are 14.684 kPa (9.78906 kPa/m).
  const wide = but(but(known.piping, "suction_lift: 4 ft", "suction_lift: 1.5 m"), "1.61 in", "1 m");
  const water = "{ coldest: 20 degC, warmest: 20 degC }";

  it("the vacuum is the lift where nothing is lost, and the discharge pressure what the pump's head leaves", () => {
    const report = knownBut({ piping: wide, water });
    const vacuum = lineOf(report, "vacuum").limit?.value ?? 0;
    expect(vacuum).toBeCloseTo(-14.684, 1);
    const head = lineOf(report, "total dynamic head").value?.value ?? 0;
    expect(lineOf(report, "discharge pressure").limit?.value).toBeCloseTo(9.78906 * (head - 1.5), 1);
  });

  it("friction and velocity deepen the vacuum", () => {
    const line = lineOf(knownBut({ water }), "vacuum").limit?.value ?? 0;
    const friction = lineOf(knownBut({ water }), "suction friction").value?.value ?? 0;
    const velocity = lineOf(knownBut({ water }), "suction velocity").value?.value ?? 0;
    expect(line).toBeCloseTo(-9.78906 * (1.2192 + friction + velocity ** 2 / (2 * 9.80665)), 2);
  });

  const seen = (readings: string) => knownBut({ commissioning: `{ ${readings} }` });

  it("a gauge agrees within 15 %, a vacuum within 5 kPa at least", () => {
    const expected = lineOf(knownBut(), "vacuum").limit?.value ?? 0;
    expect(lineOf(seen(`suction_pressure: ${expected - 4.9} kPa`), "vacuum").verdict).toBe("pass");
    expect(lineOf(seen(`suction_pressure: ${expected - 5.1} kPa`), "vacuum").verdict).toBe("caution");
    const pressure = lineOf(knownBut(), "discharge pressure").limit?.value ?? 0;
    expect(lineOf(seen(`discharge_pressure: ${1.14 * pressure} kPa`), "discharge pressure").verdict).toBe(
      "pass",
    );
    expect(lineOf(seen(`discharge_pressure: ${1.16 * pressure} kPa`), "discharge pressure").verdict).toBe(
      "caution",
    );
  });

  it("a deeper vacuum points at the strainer, a shallower one at air", () => {
    expect(lineOf(seen("suction_pressure: -40 kPa"), "vacuum").note).toMatch(/strainer/);
    expect(lineOf(seen("suction_pressure: -2 kPa"), "vacuum").note).toMatch(/air in the suction/);
  });

  it("a current past the nameplate fails, whatever was expected", () => {
    expect(lineOf(knownBut(), "motor current").verdict).toBe("pass");
    expect(lineOf(seen("motor_current: 9.9 A"), "motor current").verdict).toBe("fail");
  });

  it("a current agrees within 10 % of what the motor's load gives", () => {
    const expected = lineOf(knownBut(), "motor current").limit?.value ?? 0;
    expect(lineOf(seen(`motor_current: ${0.91 * expected} A`), "motor current").verdict).toBe("pass");
    expect(lineOf(seen(`motor_current: ${0.89 * expected} A`), "motor current").verdict).toBe("caution");
  });

  it("without gauges it says what to expect, and what to read", () => {
    const line = lineOf(knownBut({ commissioning: "" }), "vacuum");
    expect(line).toMatchObject({ verdict: "unknown", value: null });
    expect(line.limit?.text).toMatch(/^-\d+(\.\d)? ±5 kPa$/);
    expect(line.note).toMatch(/Read the gauges/);
  });

  it("two gauges alone give the head, but are not held against themselves", () => {
    const pump = but(
      but(known.pump, "rated_head: 11 m, ", ""),
      "rated_flow: 75 L/min, ",
      "rated_flow: 75 L/min, ",
    );
    const report = knownBut({ pump });
    expect(lineOf(report, "total dynamic head").value?.value).toBeCloseTo((93 + 14) / 9.79, 1);
    expect(lineOf(report, "discharge pressure").verdict).toBe("unknown");
  });
});

test.each(["QM-01", "AC-01", "SB-02", "OX-02"])(
  "the gauges of the invented plant %s show what is expected of it while it runs clean",
  (id) => {
    const read = readFleet(demoFleetFile(), { path: "fleet.yaml", folder: "/nowhere" }, {});
    const unit = "fleet" in read ? read.fleet.units.find((one) => one.id === id) : undefined;
    const plan = demoUnits.find((one) => one.id === id);
    if (unit === undefined || plan === undefined) throw new Error(`no unit ${id}`);
    const running = playRecordedDay(startDemoUnit(plan))
      .slice(0, 600)
      .map(({ values }) => values)
      .filter((values) => Number(values.discharge_pressure) > 50);
    const middle = (channel: "suction_pressure" | "discharge_pressure" | "motor_current") => {
      const sorted = running.map((values) => Number(values[channel])).toSorted((a, b) => a - b);
      return { value: sorted[Math.floor(sorted.length / 2)], from: "plant" };
    };
    const report = judgeSite(
      unit,
      {
        suction_pressure: middle("suction_pressure"),
        discharge_pressure: middle("discharge_pressure"),
        motor_current: middle("motor_current"),
      },
      amountsIn("si"),
    );
    for (const check of ["vacuum", "discharge pressure", "motor current"]) {
      expect(lineOf(report, check), check).toMatchObject({ verdict: "pass" });
    }
  },
);
