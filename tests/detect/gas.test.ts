import { describe, expect, it } from "vitest";
import {
  but,
  clean,
  readings,
  run,
  type Stretch,
  start,
  told as toldBy,
  unitOf,
  type Values,
  wobble,
} from "../support/unit-days.ts";

/** Gas of constant flow stands 24 kPa above the water it is pressed into: the injector's loss. */
function fed(second: number, change: Values = {}): Values {
  const reading = { ...clean(second), ...change };
  const gas = (reading.discharge_pressure ?? 0) + 24 + 0.3 * wobble(second, "gas_pressure");
  const wavers = (channel: "gas_pressure" | "discharge_pressure") => 0.3 * wobble(second + 1, channel);
  const given = change.gas_pressure;
  return {
    ...reading,
    discharge_pressure: (reading.discharge_pressure ?? 0) + wavers("discharge_pressure"),
    gas_pressure: given === undefined ? gas : given + wavers("gas_pressure"),
  };
}
const hourFed: Stretch = { seconds: 3600, values: fed };
const then = (change: Values | ((second: number) => Values), seconds = 900): Stretch => ({
  seconds,
  values: (s) => fed(s, typeof change === "function" ? change(s) : change),
});
const unit = unitOf();
/** What is told, to the minute. */
const told = (...day: Parameters<typeof toldBy>) =>
  toldBy(...day).map((line) => line.slice(0, 5) + line.slice(8));
const low = (lines: readonly string[]) => lines.filter((line) => / (raised|cleared) gas-/.test(line));

describe("gas supply low", () => {
  it("is raised within two minutes where the gas has lost half of what it stood above the water", () => {
    expect(told(unit, [hourFed, then({ gas_pressure: 98 })])).toEqual(["01:01 raised gas-supply-low"]);
  });

  it("is over when the feed is as it was", () => {
    expect(told(unit, [hourFed, then({ gas_pressure: 98 }), then({})])).toEqual([
      "01:01 raised gas-supply-low",
      "01:16 cleared gas-supply-low",
    ]);
  });

  it("is not raised where the gas falls because the water's pressure has: it stands as far above it as ever", () => {
    const weeded = then({ discharge_pressure: 70, motor_current: 9, suction_pressure: -20 });
    expect(low(told(unit, [hourFed, weeded]))).toEqual([]);
  });

  it("is not judged against a water's gauge that wavers far more than when clean", () => {
    const wavering = (s: number) => ({ discharge_pressure: 86 + 8 * wobble(s, "voltage"), gas_pressure: 98 });
    expect(low(told(unit, [hourFed, then(wavering)]))).toEqual([]);
  });

  it("is not judged while a gauge is missing, whatever it showed last", () => {
    const gone = (channel: "gas_pressure" | "discharge_pressure"): Stretch => ({
      seconds: 900,
      values: (s) => ({ ...fed(s, { gas_pressure: 98 }), ...(s < 30 ? {} : { [channel]: undefined }) }),
    });
    expect(low(told(unit, [hourFed, gone("gas_pressure")]))).toEqual([]);
    expect(low(told(unit, [hourFed, gone("discharge_pressure")]))).toEqual([]);
  });

  it("is not told at the end of a backflow risk that brought it", () => {
    const stop: Stretch = {
      seconds: 600,
      values: { motor_current: 0, discharge_pressure: 0, gas_pressure: 0, ozone: 0 },
    };
    expect(
      told(unit, [hourFed, then({ gas_pressure: 1 }, 600), stop]).filter((line) => line.includes("unsup")),
    ).toEqual([]);
  });

  it("is not raised while prime is lost, whatever the gas does without water", () => {
    const dry = { motor_current: 7.6, discharge_pressure: 1.5, suction_pressure: -0.5, ozone: 0 };
    expect(
      told(unit, [hourFed, then((s) => ({ ...dry, motor_current: 7.6 + 0.05 * wobble(s, "power") }))]),
    ).toEqual(["01:00 raised lost-prime"]);
  });

  it("waits for minutes after a start: the line is wet and the feed builds up", () => {
    const stop: Stretch = {
      seconds: 600,
      values: { motor_current: 0, discharge_pressure: 0, gas_pressure: 0, ozone: 0 },
    };
    const slow = (s: number) => ({ gas_pressure: s < 150 ? 95 : undefined });
    expect(low(told(unit, [hourFed, stop, then(slow)]))).toEqual([]);
  });

  it("is judged by the gas alone where no gauge shows the water's pressure, and by a larger fall", () => {
    const blind = (change: Values): Stretch => ({
      seconds: 3600,
      values: (s) => ({ ...fed(s, change), discharge_pressure: undefined }),
    });
    expect(low(told(unit, [blind({}), blind({ gas_pressure: 90 })]))).toEqual([]);
    expect(low(told(unit, [blind({}), blind({ gas_pressure: 60 })]))).toEqual([
      "01:01 raised gas-supply-low",
    ]);
  });

  it("is not judged by gas that runs below the gauge of a discharge that has fallen as well", () => {
    const below = (share: number): Stretch => ({
      seconds: 3600,
      values: (s) => ({
        ...fed(s, { gas_pressure: 60 * share }),
        discharge_pressure: 86 * share + wobble(s, "flow"),
      }),
    });
    expect(low(told(unit, [below(1), below(0.6)]))).toEqual([]);
  });

  it("counts a regulated feed as low only where the water does not explain its fall", () => {
    const regulated = unitOf("{ id: LM-01, gas: { feed: regulated } }");
    expect(low(told(regulated, [hourFed, then({ discharge_pressure: 95, gas_pressure: 110 })]))).toEqual([]);
    expect(low(told(regulated, [hourFed, then({ gas_pressure: 98 })]))).toEqual([
      "01:01 raised gas-supply-low",
    ]);
  });

  it("is not raised by what a good gauge wanders, where the gas stood hardly above the water", () => {
    const steady = (over: number): Stretch => ({
      seconds: 3600,
      values: (s) => ({
        ...clean(s),
        discharge_pressure: 20 + 0.02 * wobble(s, "flow"),
        gas_pressure: 20 + over + 0.02 * wobble(s, "gas_flow"),
      }),
    });
    expect(low(told(unit, [steady(2), steady(1.2)]))).toEqual([]);
    expect(low(told(unit, [steady(2), steady(0.5)]))).toEqual(["01:01 raised gas-supply-low"]);
  });

  it("takes a deeper vacuum of gas that is drawn in for a blocked intake", () => {
    const drawn = unitOf("{ id: LM-01, gas: { feed: drawn in, injected: suction } }");
    const stretch = (vacuum: number): Stretch => ({
      seconds: 3600,
      values: (s) => ({ ...clean(s), gas_pressure: vacuum + 0.1 * wobble(s, "gas_pressure") }),
    });
    expect(low(told(drawn, [stretch(-6), stretch(-9)]))).toEqual(["01:01 raised gas-supply-low"]);
    expect(low(told(drawn, [stretch(-6), stretch(-4)]))).toEqual([]);
  });
});

describe("gas backflow risk", () => {
  it("is raised within a minute where the gas is gone, and nothing else is", () => {
    expect(told(unit, [hourFed, then((s) => ({ gas_pressure: 1 + wobble(s, "gas_pressure") }))])).toEqual([
      "01:00 raised gas-backflow-risk",
      "01:01 suppressed gas-supply-low by gas-backflow-risk",
    ]);
  });

  it("is not raised by two gauges that differ by less than good gauges may", () => {
    expect(told(unit, [hourFed, then({ gas_pressure: 84.5 })])).toEqual(["01:01 raised gas-supply-low"]);
  });

  it("is not raised while the gas follows a discharge that has just come", () => {
    const stop: Stretch = {
      seconds: 600,
      values: { motor_current: 0, discharge_pressure: 0, gas_pressure: 0, ozone: 0 },
    };
    const lags = (s: number) => ({ gas_pressure: s < 90 ? 40 : undefined });
    expect(low(told(unit, [hourFed, stop, then(lags)]))).toEqual([]);
  });

  it("counts from where the gas stood when clean, also where that was a little below the gauge", () => {
    const under = (kPa: number): Stretch => ({
      seconds: 3600,
      values: (s) => fed(s, { discharge_pressure: 86, gas_pressure: 86 - kPa }),
    });
    expect(low(told(unit, [under(2.5), under(4)]))).toEqual([]);
    const state = start(unit);
    const findings = run(state, { kind: "readings", batch: readings([under(2.5), under(8)]) });
    const risk = findings.find(({ alarm }) => alarm === "gas-backflow-risk");
    expect(risk?.evidence.gas_pressure?.limit).toBeCloseTo(86 - 2.5 - 3, 0);
    expect(risk?.message).toContain("below the 86");
  });

  it("is quiet where the gas goes into the suction, and where it ran below the discharge gauge when clean", () => {
    const suction = unitOf("{ id: LM-01, gas: { injected: suction } }");
    expect(low(told(suction, [hourFed, then({ gas_pressure: 50 })]))).not.toContain("backflow");
    const below: Stretch = { seconds: 3600, values: but({ gas_pressure: 24 }) };
    expect(low(told(unit, [below, below]))).toEqual([]);
  });
});
