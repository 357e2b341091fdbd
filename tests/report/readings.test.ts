import { describe, expect, it } from "vitest";
import { driftOf } from "../../src/report/drift.ts";
import { ozoneRemarks } from "../../src/report/ozone-remarks.ts";
import { pointStep, pointsOf } from "../../src/report/points.ts";
import { ozoneTimeOf, runningOf } from "../../src/report/running.ts";
import { spansOf, withinBounds } from "../../src/report/spans.ts";
import { channelIndex } from "../../src/terms/channels.ts";
import { day, hour, minute } from "../../src/terms/time.ts";
import { hourSpan, level } from "./spans.ts";

const current = channelIndex.motor_current;
const nan = Number.NaN;

describe("what was read", () => {
  it("is taken from the finest summaries that are left, hour by hour", () => {
    const levels = [
      level(hour, 0, "motor_current", [1, 2, nan]),
      level(10 * minute, hour, "motor_current", [nan, 2, 2, nan, nan, 2, 3]),
      level(minute, 2 * hour + 10 * minute, "motor_current", [3, 3]),
    ];
    const spans = spansOf(levels, { fromMs: 30 * minute, toMs: 3 * hour });
    expect(spans.map(({ fromMs, toMs }) => [fromMs / minute, toMs / minute])).toEqual([
      [30, 60],
      [70, 80],
      [80, 90],
      [110, 120],
      [120, 130],
      [130, 131],
      [131, 132],
    ]);
    expect(spans[5].of(current)?.mean).toBe(3);
  });

  it("holds nothing of a gauge past what it can read: a broken line is no pressure", () => {
    const [span] = withinBounds(
      [hourSpan(0, { motor_current: [8, 9, 9], gas_pressure: [-150, 20, 30] })],
      Array.from({ length: 16 }, () => ({ low: -104, high: 2500 })),
    );
    expect(span.of(current)?.mean).toBe(9);
    expect(span.of(channelIndex.gas_pressure)).toBeUndefined();
  });
});

describe("run hours", () => {
  it("by the motor's current: whole hours surely, the hour of a stop by its mean, within its bounds", () => {
    // 9 A for a quarter of the third hour leaves a mean of 2.25 A.
    const spans = [
      hourSpan(0, { motor_current: [8.8, 9, 9.2] }),
      hourSpan(1, { motor_current: [8.8, 9, 9.2] }),
      hourSpan(2, { motor_current: [0, 2.25, 9.1] }),
      hourSpan(3, { motor_current: [0, 0, 0.1] }),
    ];
    const found = runningOf(spans, 2);
    expect(found).toMatchObject({
      by: "motor current",
      leastMs: 2 * hour,
      mostMs: 3 * hour,
      knownMs: 4 * hour,
    });
    expect(found.ms / hour).toBeCloseTo(2.25, 10);
  });

  it("a sagging current within the deadband of running is running still", () => {
    expect(runningOf([hourSpan(0, { motor_current: [1.5, 8, 9] })], 2).leastMs).toBe(hour);
  });

  it("a current that stays in that deadband is running after running, and not else", () => {
    const [on, sagged] = [
      [8.8, 9, 9.2],
      [1.5, 1.6, 1.7],
    ] as const;
    const hours = (...currents: readonly (typeof on | typeof sagged)[]) =>
      runningOf(
        currents.map((motor_current, at) => hourSpan(at, { motor_current })),
        2,
      ).ms / hour;
    expect(hours(on, sagged)).toBe(2);
    expect(hours(sagged, on)).toBe(1);
  });

  it("by power or by the run command where the log has no current, and not known by neither", () => {
    expect(runningOf([hourSpan(0, { power: [600, 620, 640] })], 2)).toMatchObject({ by: "power", ms: hour });
    const commanded = runningOf([hourSpan(0, { run_command: [0, 0.25, 1] })], 2);
    expect(commanded).toMatchObject({ by: "run command", ms: hour / 4 });
    expect(runningOf([hourSpan(0, { gas_pressure: [20, 20, 20] })], 2).by).toBeNull();
  });
});

it("ozone hours are the share of readings that say on; an hour with a fault tells no share", () => {
  const spans = [
    hourSpan(0, { ozone: [1, 1, 1] }),
    hourSpan(1, { ozone: [0, 0.5, 1] }),
    hourSpan(2, { ozone: [0, 0.9, 2] }),
    hourSpan(3, {}),
  ];
  expect(ozoneTimeOf(spans, runningOf(spans, 2))).toEqual({
    ms: 1.5 * hour,
    leastMs: 1.5 * hour,
    mostMs: 2.5 * hour,
    faultMs: hour,
    knownMs: 3 * hour,
    whileStoodMs: 0,
    unseenMs: 1.5 * hour,
  });
  expect(ozoneTimeOf([hourSpan(0, {})], runningOf([], 2))).toBeNull();
});

describe("ozone against run hours", () => {
  const remarks = (...hours: Parameters<typeof hourSpan>[1][]) => {
    const spans = hours.map((of, at) => hourSpan(at, of));
    const running = runningOf(spans, 2);
    return ozoneRemarks(ozoneTimeOf(spans, running), running);
  };
  const runs = [9, 9.2, 9.4] as const;
  const stands = [0, 0, 0.1] as const;
  const on = [1, 1, 1] as const;

  it("says nothing where it was on only while the motor ran, nor of the minute after a stop", () => {
    const aMinute = [0, 1 / 60, 1] as const;
    expect(remarks({ motor_current: runs, ozone: on }, { motor_current: stands, ozone: aMinute })).toEqual(
      [],
    );
  });

  it("remarks what was on while the motor stood, with the caution of the interlock", () => {
    const [remark, ...more] = remarks(
      { motor_current: runs, ozone: on },
      { motor_current: stands, ozone: [0, 0.5, 1] },
    );
    expect(remark).toMatch(/^Ozone was on for 0\.5 h while the motor stood, .*never bridge it/);
    expect(more).toEqual([]);
  });

  it("remarks what was on for longer than the motor ran, where an hour holds both", () => {
    const [remark] = remarks({ motor_current: runs, ozone: on }, { motor_current: [0, 2.3, 9.2], ozone: on });
    expect(remark).toMatch(/^Ozone was on for 0\.8 h longer than the motor ran/);
  });

  it("remarks what was on while nothing told whether the motor ran", () => {
    expect(remarks({ motor_current: runs, ozone: on }, { ozone: on })).toEqual([
      "Ozone was on for 1.0 h of which nothing tells whether the motor ran.",
    ]);
    expect(remarks({ ozone: on })).toEqual([
      expect.stringContaining("Nothing in the log tells when the motor"),
    ]);
  });
});

it("drift is the last part's median against the first's, and none of too little running", () => {
  const ran = Array.from({ length: 40 }, (_, at) =>
    hourSpan(at, { gas_pressure: [20, at === 1 ? 90 : 20 + at / 10, 30] }),
  );
  const period = { fromMs: 0, toMs: 40 * hour };
  // Medians of the first and last ten hours: of 20.0, 90, 20.2 … 20.9 and of 23.0 … 23.9.
  expect(driftOf(ran, channelIndex.gas_pressure, period)?.first).toBeCloseTo(20.55, 6);
  expect(driftOf(ran, channelIndex.gas_pressure, period)?.last).toBeCloseTo(23.45, 6);
  expect(driftOf(ran.slice(0, 32), channelIndex.gas_pressure, period)).toBeNull();
  expect(driftOf(ran.slice(8), channelIndex.gas_pressure, period)).toBeNull();
});

it("a plot's points are few enough to be seen, bear the extremes and weigh means by time", () => {
  const spans = [
    hourSpan(0, { flow: [1, 2, 3] }),
    hourSpan(1, { flow: [4, 5, 60] }),
    hourSpan(5, { flow: [7, 7, 7] }),
  ];
  expect(pointStep(spans, { fromMs: 0, toMs: 30 * day })).toBe(3 * hour);
  expect(pointStep(spans, { fromMs: 0, toMs: 6 * hour })).toBe(hour);
  expect(pointsOf(spans, channelIndex.flow, 3 * hour)).toEqual([
    { fromMs: 0, toMs: 3 * hour, least: 1, mean: 3.5, most: 60 },
    { fromMs: 3 * hour, toMs: 6 * hour, least: 7, mean: 7, most: 7 },
  ]);
});
