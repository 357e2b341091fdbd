import { describe, expect, it } from "vitest";
import { clean, readings, run, start, told, unitOf, type Values, wobble } from "../support/unit-days.ts";

/** Clean: 9.3 A, −24 kPa, 86 kPa. */
const unit = unitOf(
  "{ id: LM-01, site: Heron Bend, ozone: none, elevation: 120 m, pump: { npsh_required: 2.5 m } }",
);

interface Moved {
  readonly current?: number;
  readonly suction?: number;
  readonly discharge?: number;
  /** Half the width in which discharge pressure, vacuum and current waver from reading to reading. */
  readonly wavers?: number;
}

/** Clean running with its gauges moved. */
function moved({ current = 9.3, suction = -24, discharge = 86, wavers = 0 }: Moved) {
  return (second: number): Values => ({
    ...clean(second),
    ozone: undefined,
    motor_current:
      current + 0.05 * wobble(second, "motor_current") + wavers * 0.02 * wobble(second + 7, "motor_current"),
    suction_pressure:
      suction +
      0.4 * wobble(second, "suction_pressure") +
      wavers * 0.1 * wobble(second + 7, "suction_pressure"),
    discharge_pressure:
      discharge +
      0.8 * wobble(second, "discharge_pressure") +
      wavers * wobble(second + 7, "discharge_pressure"),
    // Gas goes into the discharge, so its pressure moves with it.
    gas_pressure: discharge + 24,
  });
}

const hour = { seconds: 3600, values: moved({}) };
const hourThen = (values: (second: number) => Values, seconds = 900) => [hour, { seconds, values }];
const raised = (lines: readonly string[]) =>
  lines.filter((line) => line.includes(" raised ")).map((line) => line.split(" ")[2]);

// Source: the head curve of a radial pump against the friction of its lines, gauge between pump and generator.
describe("the gauges of a radial pump tell", () => {
  it.each([
    [
      "suction-restricted",
      "a strainer that clogs: deeper, down, down",
      { suction: -34, discharge: 79, current: 9.2 },
    ],
    [
      "suction-restricted",
      "a foot valve that shuts: deep, gone, unloaded",
      { suction: -90, discharge: 1, current: 7.6 },
    ],
    [
      "discharge-restricted",
      "a blocked generator: shallower, up, down",
      { suction: -22, discharge: 103, current: 8.9 },
    ],
    ["discharge-open", "a parted line: deeper, down, up", { suction: -26, discharge: 70, current: 9.6 }],
    [
      "impeller-fouled",
      "weed in the impeller: shallower and steady, down, down",
      { suction: -23.2, discharge: 74, current: 9.15 },
    ],
    [
      "suction-air",
      "a leak: shallower and unsteady, down, down",
      { suction: -21, discharge: 66, current: 8.7, wavers: 10 },
    ],
    [
      "cavitation",
      "boiling in the eye: deep and unsteady, down, down",
      { suction: -70, discharge: 55, current: 8.8, wavers: 8 },
    ],
  ])("%s: %s", (alarm, _what, gauges) => {
    expect(raised(told(unit, hourThen(moved(gauges))))).toEqual([alarm]);
  });

  it.each([
    ["a pond that has fallen by 30 cm: vacuum and pressure by as much", { suction: -27, discharge: 83 }],
    ["a discharge gauge that drifts alone", { discharge: 78 }],
    ["a vacuum gauge that drifts alone", { suction: -28 }],
    ["a supply 3 % low: the current alone", { current: 9.1 }],
    ["bubbles that make the gauges waver a little", { wavers: 0.8 }],
    ["a generator a little scaled", { suction: -23.6, discharge: 89, current: 9.25 }],
  ])("nothing of %s", (_what, gauges) => {
    expect(raised(told(unit, hourThen(moved(gauges), 3600)))).toEqual([]);
  });

  it.each([
    ["1 % more current", 9.39],
    ["4 % more current", 9.67],
  ])(
    "a clogged strainer on a supply that makes the motor draw %s: no open line, for the head stays",
    (_supply, current) => {
      expect(raised(told(unit, hourThen(moved({ suction: -34, discharge: 78, current }))))).toEqual([
        "suction-restricted",
      ]);
    },
  );

  it("suction-restricted: a strainer that clogs over two days, before the motor unloads by a tenth", () => {
    const days = 2 * 86_400;
    // Suction friction grows eightfold: the operating point follows the pump's curve.
    const clogging = (second: number) => {
      const share = second / days;
      return moved({
        suction: -24 - 40 * share,
        discharge: 86 - 28 * share,
        current: 9.3 * (1 - 0.12 * share),
      })(second);
    };
    const [first] = told(unit, [hour, { seconds: days, values: clogging }], 60);
    expect(first).toContain("raised suction-restricted");
    const findings = run(start(unit), {
      kind: "readings",
      batch: readings([hour, { seconds: days, values: clogging }], 60),
    });
    const { evidence } = findings[0];
    expect(
      (evidence.motor_current.value as number) / (evidence.motor_current.baseline as number),
    ).toBeGreaterThan(0.9);
  });
});

describe("on a regenerative pump the current goes the other way", () => {
  const regenerative = unitOf("{ id: LM-01, ozone: none, pump: { type: regenerative } }");
  it.each([
    ["discharge-restricted", { suction: -22, discharge: 103, current: 9.8 }],
    ["discharge-open", { suction: -26, discharge: 70, current: 8.9 }],
    ["suction-restricted", { suction: -34, discharge: 76, current: 9.6 }],
  ])("%s", (alarm, gauges) => {
    expect(raised(told(regenerative, hourThen(moved(gauges))))).toContain(alarm);
    if (alarm !== "suction-restricted") {
      expect(raised(told(unit, hourThen(moved(gauges))))).not.toContain(alarm);
    }
  });

  it("a foot valve that shuts is a restriction, however the motor unloads", () => {
    const shut = moved({ suction: -90, discharge: 1, current: 7.6 });
    expect(raised(told(regenerative, hourThen(shut)))).toEqual(["suction-restricted"]);
  });
});

/** A pump of 20 kPa at each side, with its quieter gauges. */
const small =
  ({ current = 9.3, suction = -20, discharge = 20, noiseA = 0.05 }: Moved & { noiseA?: number }) =>
  (second: number): Values => ({
    ...clean(second),
    ozone: undefined,
    motor_current: current + noiseA * wobble(second, "motor_current"),
    suction_pressure: suction + 0.2 * wobble(second, "suction_pressure"),
    discharge_pressure: discharge + 0.2 * wobble(second, "discharge_pressure"),
    gas_pressure: discharge + 4,
  });

// Source: 20 cm of water are 1.96 kPa, on both gauges.
describe("a pond's level moves both gauges of a small pump by a tenth, and not its head", () => {
  const then = (gauges: Moved) => [
    { seconds: 3600, values: small({}) },
    { seconds: 3600, values: small(gauges) },
  ];
  it.each([
    ["20 cm lower, and a supply that gives 1 % more current", { suction: -22, discharge: 18, current: 9.4 }],
    ["20 cm lower, and a supply that gives 1 % less", { suction: -22, discharge: 18, current: 9.2 }],
    ["20 cm higher, and a supply that gives 1 % less", { suction: -18, discharge: 22, current: 9.2 }],
  ])("%s", (_what, gauges) => {
    expect(raised(told(unit, then(gauges)))).toEqual([]);
  });

  it("a line that parts there lowers the head, and is told", () => {
    expect(raised(told(unit, then({ suction: -22, discharge: 15, current: 9.6 })))).toEqual([
      "discharge-open",
    ]);
  });
});

describe("a current within its meter's own noise confirms nothing", () => {
  it("a discharge gauge that drifts up by 8 % beside a 1 % meter, whose mean stands 0.5 % low", () => {
    const noisy = (gauges: Moved) => small({ suction: -6, discharge: 60, noiseA: 0.16, ...gauges });
    const stretches = [
      { seconds: 3600, values: noisy({}) },
      { seconds: 3600, values: noisy({ discharge: 65, current: 9.255 }) },
    ];
    expect(raised(told(unit, stretches))).toEqual([]);
  });
});

describe("a suction under a head of water", () => {
  const flooded = (suction: number, discharge: number, current: number) =>
    moved({ suction, discharge, current });
  const clear = { seconds: 3600 * 3, values: flooded(10, 86, 9.3) };

  it("a pond that falls by a centimetre a day for three weeks is not a restriction", () => {
    const falling = (second: number) => {
      const kPa = (9.79 * 0.01 * second) / 86_400;
      return flooded(10 - kPa, 86 - kPa, 9.3)(second);
    };
    expect(raised(told(unit, [clear, { seconds: 25 * 86_400, values: falling }], 60))).toEqual([]);
  });

  it("its clogged strainer is told as a pressure that fell, for there is no vacuum", () => {
    const [finding] = run(start(unit), {
      kind: "readings",
      batch: readings([clear, { seconds: 900, values: flooded(6, 80, 9.15) }]),
    });
    expect(finding).toMatchObject({ event: "raised", alarm: "suction-restricted" });
    expect(finding.message).toMatch(/the suction pressure fell from 10\S* kPa to 6\S* kPa/);
  });
});

describe("with fewer gauges", () => {
  const without = (channel: keyof Values, values: (second: number) => Values) => (second: number) => ({
    ...values(second),
    [channel]: undefined,
  });
  const toldWithout = (channel: keyof Values, gauges: Moved) =>
    run(start(unit), {
      kind: "readings",
      batch: readings([
        { seconds: 3600, values: without(channel, moved({})) },
        { seconds: 900, values: without(channel, moved(gauges)) },
      ]),
    });

  it("no vacuum gauge: pressure and current that fall are a restriction, and it says what looks alike", () => {
    const [finding] = toldWithout("suction_pressure", { discharge: 74, current: 9.1 });
    expect(finding).toMatchObject({ event: "raised", alarm: "suction-restricted" });
    expect(finding.message).toContain("a fouled impeller looks alike");
  });

  it("no discharge gauge: a deeper vacuum and less current are a restriction", () => {
    const [finding] = toldWithout("discharge_pressure", { suction: -34, current: 9.1 });
    expect(finding).toMatchObject({ event: "raised", alarm: "suction-restricted" });
  });
});

describe("a gauge that was there when clean and is lost", () => {
  const lost = (gauges: Moved) => (second: number) => ({
    ...moved(gauges)(second),
    discharge_pressure: Number.NaN,
  });

  it("is not judged by its last readings, nor as if it had never been there", () => {
    const low = { seconds: 40, values: moved({ suction: -26, discharge: 70, current: 9.6 }) };
    const stretches = [hour, low, { seconds: 3600, values: lost({ suction: -26, current: 9.45 }) }];
    expect(raised(told(unit, stretches))).not.toContain("discharge-open");
  });

  it("keeps an alarm that stands", () => {
    const open = { suction: -26, discharge: 70, current: 9.6 };
    const stretches = [hour, { seconds: 300, values: moved(open) }, { seconds: 3600, values: lost({}) }];
    const lines = told(unit, stretches);
    expect(raised(lines)).toContain("discharge-open");
    expect(lines.filter((line) => line.includes("cleared discharge-open"))).toEqual([]);
  });

  it("a discharge gauge that reads 0 kPa while the vacuum stands is no open line", () => {
    const dead = (second: number) => ({ ...moved({ current: 9.42 })(second), discharge_pressure: 0 });
    expect(raised(told(unit, hourThen(dead, 3600)))).not.toContain("discharge-open");
  });

  it("a line that parts at the pump leaves no pressure, but draws much water: it is open", () => {
    const parted = moved({ suction: -30, discharge: 4, current: 10.2 });
    expect(raised(told(unit, hourThen(parted)))).toContain("discharge-open");
  });
});

describe("a pond that falls by 2 cm a day for a month", () => {
  const days = (n: number) => n * 86_400;
  // 60 cm: the vacuum deepens by 5.9 kPa, a quarter and more, and the discharge falls by as much; head and load stay.
  const falling = (second: number) => {
    const kPa = (9.79 * 0.02 * second) / days(1);
    return moved({ suction: -18 - kPa, discharge: 92 - kPa })(second);
  };
  const clear = { seconds: 3600 * 3, values: moved({ suction: -18, discharge: 92 }) };

  it("is not a restriction", () => {
    expect(raised(told(unit, [clear, { seconds: days(30), values: falling }], 60))).toEqual([]);
  });

  it("does not hide a strainer that clogs at its end", () => {
    const clogged = moved({ suction: -34, discharge: 76, current: 9.2 });
    const lines = told(
      unit,
      [clear, { seconds: days(30), values: falling }, { seconds: 3600, values: clogged }],
      60,
    );
    expect(raised(lines)).toEqual(["suction-restricted"]);
  });
});

describe("how urgent a restriction is", () => {
  it.each([
    ["medium while water moves", { suction: -34, discharge: 79, current: 9.1 }, "medium"],
    ["high when the flow has stopped", { suction: -90, discharge: 1, current: 7.6 }, "high"],
  ])("%s", (_when, gauges, priority) => {
    const findings = run(start(unit), { kind: "readings", batch: readings(hourThen(moved(gauges))) });
    expect(findings.find(({ alarm }) => alarm === "suction-restricted")).toMatchObject({ priority });
  });
});

describe("what is said", () => {
  const first = (gauges: Moved) =>
    run(start(unit), { kind: "readings", batch: readings(hourThen(moved(gauges))) })[0];

  it("names each gauge, from what to what, and what it means", () => {
    expect(first({ suction: -34, discharge: 79, current: 9.1 }).message).toMatch(
      /^Discharge pressure fell from 8\d\.?\d* kPa to 7\d.* kPa, the vacuum grew deeper from -2\d.* kPa to -3\d.* kPa and the current fell from 9\.3 A to 9\.1 A: less water comes through the suction line/,
    );
  });

  it("says of a cavitating pump what wavers, and that vapour forms in it", () => {
    const values = (second: number) => ({
      ...moved({ suction: -34, discharge: 79 })(second),
      motor_current: 9.1 + 0.46 * wobble(second, "motor_current"),
    });
    const [finding] = run(start(unit), { kind: "readings", batch: readings(hourThen(values)) });
    expect(finding.alarm).toBe("cavitation");
    expect(finding.message).toMatch(
      /and the current wavers \d+ times as much as when clean: vapour forms in the pump/,
    );
    expect(finding.evidence.current_unsteadiness.value).toBeGreaterThan(2.5);
  });

  it("carries the NPSH that is left beside what the pump requires", () => {
    const { evidence, message } = first({ suction: -70, discharge: 55, current: 8.8, wavers: 8 });
    // (99.9 − 70 − 3.17) kPa / (997.05 × 9.80665 N/m³) = 2.73 m: DOE-HDBK-1012/3-92 with IF97 and Tanaka at 25 °C.
    expect(evidence.npsh_available.value).toBeCloseTo(2.73, 0);
    expect(evidence.npsh_available.limit).toBe(2.5);
    expect(message).toContain("NPSH available 2.");
  });
});

describe("before a baseline is known, and in the first two minutes of a run", () => {
  it("nothing is judged", () => {
    const blocked = moved({ suction: -22, discharge: 103, current: 8.9 });
    expect(raised(told(unit, [{ seconds: 900, values: blocked }]))).toEqual([]);
    const stopped = {
      ...moved({})(0),
      motor_current: 0,
      discharge_pressure: 0,
      suction_pressure: 0,
      gas_pressure: 0,
    };
    expect(
      raised(told(unit, [hour, { seconds: 600, values: stopped }, { seconds: 200, values: blocked }])),
    ).toEqual([]);
  });
});
