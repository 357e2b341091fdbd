import { describe, expect, it } from "vitest";
import { stopped } from "../support/fleets.ts";
import {
  but,
  clean,
  hourClean,
  readings,
  run,
  type Stretch,
  start,
  told,
  unitOf,
} from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, ozone: none, motor: { full_load_current: 9.8 A } }");

/** Unloaded, a capacitor-start motor still draws 70–80 % of full load: 7.6 A of 9.8 A is a drop of 18 %. */
const dry = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5, ozone: 0 };

describe("lost prime", () => {
  it("is raised 30 s after the pressure collapsed and the motor unloaded, with the numbers that say so", () => {
    const findings = run(start(unit), {
      kind: "readings",
      batch: readings([hourClean, { seconds: 120, values: but(dry) }]),
    });
    expect(findings).toHaveLength(1);
    const [finding] = findings;
    expect(finding).toMatchObject({ event: "raised", alarm: "lost-prime", priority: "high" });
    expect(new Date(finding.sinceMs).toISOString()).toBe("2026-05-04T01:00:00.000Z");
    expect(new Date(finding.timeMs).toISOString()).toBe("2026-05-04T01:00:30.000Z");
    expect(finding.evidence.discharge_pressure).toMatchObject({ value: 1.5, unit: "kPa" });
    expect(finding.evidence.discharge_pressure.baseline).toBeCloseTo(86, 0);
    expect(finding.evidence.motor_current.baseline).toBeCloseTo(9.3, 1);
    expect(finding.message).toMatch(/collapsed to 1\.5 kPa.*unloaded at 7\.6 A.*vacuum was gone/);
  });

  it.each([
    ["a tenth", 9.3 * 0.9],
    ["a fifth", 9.3 * 0.8],
    ["three tenths", 9.3 * 0.7],
  ])("is seen where the current falls by only %s", (_name, motor_current) => {
    expect(told(unit, [hourClean, { seconds: 120, values: but({ ...dry, motor_current }) }])).toEqual([
      "01:00:30 raised lost-prime",
    ]);
  });

  it("is seen where a check valve holds the vacuum, and says so", () => {
    const held = { ...dry, suction_pressure: -18 };
    const [finding] = run(start(unit), {
      kind: "readings",
      batch: readings([hourClean, { seconds: 120, values: but(held) }]),
    });
    expect(finding.alarm).toBe("lost-prime");
    expect(finding.message).toContain("held at -18 kPa");
  });

  it("is seen by the vacuum where the discharge pressure is not measured", () => {
    const without = (stretch: Stretch): Stretch => ({
      seconds: stretch.seconds,
      values: (second) => {
        const values = typeof stretch.values === "function" ? stretch.values(second) : stretch.values;
        return { ...values, discharge_pressure: undefined };
      },
    });
    const stretches = [hourClean, { seconds: 120, values: but(dry) }].map(without);
    expect(told(unit, stretches)).toEqual(["01:00:30 raised lost-prime"]);
  });

  it("is seen by the vacuum where the discharge gauge has been lost", () => {
    const lost =
      (values: Stretch["values"]): Stretch["values"] =>
      (second) => ({
        ...(typeof values === "function" ? values(second) : values),
        discharge_pressure: Number.NaN,
      });
    const stretches = [
      hourClean,
      { seconds: 600, values: lost(clean) },
      { seconds: 300, values: lost(but(dry)) },
    ];
    expect(told(unit, stretches)).toContain("01:10:30 raised lost-prime");
  });

  it("stays when the discharge gauge is lost while a check valve holds the vacuum", () => {
    const held = { ...dry, suction_pressure: -18 };
    const stretches = [
      hourClean,
      { seconds: 120, values: but(held) },
      { seconds: 600, values: but({ ...held, discharge_pressure: Number.NaN }) },
    ];
    const lines = told(unit, stretches);
    expect(lines).toContain("01:00:30 raised lost-prime");
    expect(lines).not.toContainEqual(expect.stringContaining("cleared lost-prime"));
  });

  it("clears when the pump has primed again", () => {
    const stretches = [hourClean, { seconds: 300, values: but(dry) }, { seconds: 120, values: clean }];
    expect(told(unit, stretches)).toEqual(["01:00:30 raised lost-prime", "01:05:30 cleared lost-prime"]);
  });

  it("waits three intervals where a unit is sampled every minute", () => {
    const stretches = [
      { seconds: 7200, values: clean },
      { seconds: 600, values: but(dry) },
    ];
    expect(told(unit, stretches, 60)).toEqual(["02:03:00 raised lost-prime"]);
  });

  it.each<[string, Stretch["values"]]>([
    [
      "a parted discharge line: pressure gone, current up",
      but({ discharge_pressure: 4, motor_current: 10.4 }),
    ],
    ["a gauge that died: pressure gone, current as ever", but({ discharge_pressure: 0 })],
    ["a dip of the supply: current down, pressure as ever", but({ motor_current: 7.6 })],
    [
      "a strainer half choked: pressure and current somewhat down",
      but({ discharge_pressure: 60, motor_current: 8.7 }),
    ],
    ["two bad readings", (s) => (s < 20 ? { ...clean(s), ...dry } : clean(s))],
  ])("is not raised by %s", (_name, values) => {
    const all = told(unit, [hourClean, { seconds: 600, values }]);
    expect(all.filter((line) => line.includes("lost-prime"))).toEqual([]);
  });

  it("is not raised by a suction that is shut: the pump is primed and draws a deep vacuum", () => {
    const shut = but({ ...dry, suction_pressure: -80 });
    expect(told(unit, [hourClean, { seconds: 600, values: shut }])).toEqual([
      "01:01:00 raised suction-restricted",
    ]);
  });

  it("is not raised by a stop, nor while a start still primes", () => {
    const stopped = {
      motor_current: 0,
      motor_temperature: 50,
      suction_pressure: -1,
      discharge_pressure: 0,
      gas_pressure: 0,
      ozone: 0,
    };
    const stretches = [
      hourClean,
      { seconds: 600, values: stopped },
      { seconds: 120, values: but(dry) },
      { seconds: 600, values: clean },
    ];
    expect(told(unit, stretches)).toEqual([]);
  });

  it("is quiet until a baseline is known", () => {
    expect(
      told(unit, [
        { seconds: 600, values: clean },
        { seconds: 600, values: but(dry) },
      ]),
    ).toEqual([]);
  });

  it("takes its limits from the fleet file", () => {
    const slow = unitOf(
      "{ id: LM-01, ozone: none, limits: { lost-prime: { delay: 2 min, discharge_below: 0.01 } } }",
    );
    const all = told(slow, [hourClean, { seconds: 600, values: but(dry) }]);
    expect(all.filter((line) => line.includes("lost-prime"))).toEqual([]);
    const later = unitOf("{ id: LM-01, ozone: none, limits: { lost-prime: { delay: 2 min } } }");
    expect(told(later, [hourClean, { seconds: 600, values: but(dry) }])).toEqual([
      "01:02:00 raised lost-prime",
    ]);
  });
});

it("a lost prime that ends with the motor is not called normal: the motor had stopped", () => {
  const after = (values: Stretch["values"]) =>
    run(start(unit), {
      kind: "readings",
      batch: readings([hourClean, { seconds: 120, values: but(dry) }, { seconds: 120, values }]),
    }).find(({ alarm, event }) => alarm === "lost-prime" && event === "cleared")?.message;
  expect(after(stopped)).toBe("The motor had stopped.");
  expect(after(clean)).toBe("Back to normal.");
});
