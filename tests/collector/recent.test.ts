import { describe, expect, it } from "vitest";
import { eventsWithin } from "../../src/collector/past.ts";
import { drawLevels, pastLevels } from "../../src/collector/past-levels.ts";
import { shownPoints, startPoints } from "../../src/collector/past-points.ts";
import { type Recent, remember, rememberEvent, startRecent } from "../../src/collector/recent.ts";
import { signalsOf } from "../../src/fleet/signals.ts";
import { midnight, readings, unitOf } from "../support/unit-days.ts";

const hour = 3600_000;
const signals = signalsOf(unitOf());
/** The past of a unit of which nothing is kept. */
const historyOf = (recent: Recent, unit: string, fromMs: number, toMs: number, count: number) => {
  const points = startPoints(fromMs, toMs, count);
  drawLevels(points, pastLevels({ unit, recent }, fromMs, toMs), toMs);
  const events = eventsWithin(recent.events, fromMs, toMs);
  return { ...shownPoints(points, signals), events };
};
const steady = (seconds: number, startMs: number, motor_current: number | ((s: number) => number)) =>
  readings(
    [
      {
        seconds,
        values: (s) => ({
          motor_current: typeof motor_current === "number" ? motor_current : motor_current(s),
        }),
      },
    ],
    10,
    startMs,
  );

describe("a unit's recent past for charts", () => {
  it("keeps the extremes of each minute, so that no spike is thinned away", () => {
    const recent = startRecent(signals);
    remember(
      recent,
      steady(hour / 1000, midnight, (s) => (s === 1810 ? 40 : s === 1820 ? 1 : 9)),
    );
    const { signals: shown, timeMs } = historyOf(recent, "LM-01", midnight, midnight + hour, 6);
    expect(shown).toHaveLength(1);
    expect(shown[0]).toMatchObject({ channel: "motor_current", part: 0 });
    expect(shown[0].high).toEqual([9, 9, 9, 40, 9, 9]);
    expect(shown[0].low).toEqual([9, 9, 9, 1, 9, 9]);
    expect(timeMs).toEqual([5, 15, 25, 35, 45, 55].map((minute) => midnight + minute * 60_000));
  });

  it("leaves a gap where nothing was read", () => {
    const recent = startRecent(signals);
    remember(recent, steady(600, midnight, 9));
    remember(recent, steady(600, midnight + 20 * 60_000, 8));
    const [{ low, high }] = historyOf(recent, "LM-01", midnight, midnight + 30 * 60_000, 3).signals;
    expect(low).toEqual([9, Number.NaN, 8]);
    expect(high).toEqual([9, Number.NaN, 8]);
  });

  it("forgets what is older than 25 hours, and never shows an old day's minute as today's", () => {
    const recent = startRecent(signals);
    remember(recent, steady(600, midnight, 5));
    remember(recent, steady(60, midnight + 25 * hour, 9));
    const first = historyOf(recent, "LM-01", midnight, midnight + 60_000, 1);
    expect(first.signals).toEqual([]);
    const second = historyOf(recent, "LM-01", midnight + 60_000, midnight + 120_000, 1);
    expect(second.signals[0].high).toEqual([5]);
    const today = historyOf(recent, "LM-01", midnight + 25 * hour, midnight + 25 * hour + 120_000, 2);
    expect(today.signals[0]).toMatchObject({ low: [9, Number.NaN], high: [9, Number.NaN] });
  });

  it("does not let a late reading push out a newer one", () => {
    const recent = startRecent(signals);
    remember(recent, steady(60, midnight + 25 * hour, 9));
    remember(recent, steady(60, midnight, 5));
    const today = historyOf(recent, "LM-01", midnight + 25 * hour, midnight + 25 * hour + 60_000, 1);
    expect(today.signals[0]).toMatchObject({ low: [9], high: [9] });
  });

  it("shows the minute that it lies in where points are closer than minutes", () => {
    const recent = startRecent(signals);
    remember(
      recent,
      steady(120, midnight, (s) => (s < 60 ? 7 : 9)),
    );
    const [{ high }] = historyOf(recent, "LM-01", midnight, midnight + 120_000, 8).signals;
    expect(high).toEqual([7, 7, 7, 7, 9, 9, 9, 9]);
  });

  it("leaves out a channel without values, and a missing value", () => {
    const recent = startRecent(signals);
    remember(
      recent,
      readings([
        { seconds: 60, values: (s) => ({ motor_current: s === 0 ? 9 : undefined, gas_pressure: 3 }) },
      ]),
    );
    const { signals: shown } = historyOf(recent, "LM-01", midnight, midnight + 60_000, 1);
    expect(shown.map(({ channel }) => channel)).toEqual(["motor_current", "gas_pressure"]);
    expect(shown[0]).toMatchObject({ low: [9], high: [9] });
  });

  it("marks the events of the span, and keeps the newest 200", () => {
    const recent = startRecent(signals);
    for (let i = 0; i < 300; i++) {
      rememberEvent(recent, {
        timeMs: midnight + i * 1000,
        unit: "LM-01",
        seq: i + 1,
        alarm: "lost-prime",
        event: i % 2 === 0 ? "raised" : "cleared",
        priority: "high",
        sinceMs: midnight,
        message: "",
        evidence: {},
      });
    }
    expect(historyOf(recent, "LM-01", midnight, midnight + hour, 1).events).toHaveLength(200);
    const { events } = historyOf(recent, "LM-01", midnight + 298_000, midnight + 298_999, 1);
    expect(events).toEqual([{ timeMs: midnight + 298_000, alarm: "lost-prime", event: "raised" }]);
  });
});
