import { describe, expect, test } from "vitest";
import { startRecorder } from "../../src/simulate/recorder.ts";
import type { Sample } from "../../src/simulate/sensors.ts";
import type { Channel } from "../../src/terms/channels.ts";
import { day, hour } from "../../src/terms/time.ts";
import { bench } from "./bench.ts";

describe("the gas line", () => {
  /** What the gas has over the water after an hour's run in air of `airC`. */
  const overKpa = (airC: number, gasLossPerK?: number) => {
    const { gasKpa, dischargeKpa } = bench({ gasLossPerK }, airC).run(3600);
    return gasKpa - dischargeKpa;
  };

  test("loses more in its injector by as much as the gas is warmer: a constant mass of an ideal gas", () => {
    expect(overKpa(35, 1 / 288.15) / overKpa(15, 1 / 288.15)).toBeCloseTo((273.15 + 35) / (273.15 + 15), 4);
  });

  test("is the same in any air where it is not said to follow it", () => {
    expect(overKpa(35)).toBeCloseTo(overKpa(15), 9);
  });
});

describe("a pressure instrument that drifts", () => {
  const station = {
    skid: bench().skid,
    runs: { kind: "always" },
    weather: { coolestC: 10, hottestC: 24, waterC: 17, localOffsetMs: 0 },
    temperatureAt: "shell",
    sharedOutlet: false,
    intervalMs: hour,
    firstMs: 0,
    faults: [],
    stops: [],
  } as const;

  /** A reading ten days after the first. */
  function tenDaysOn(driftKpaPerDay?: Partial<Record<Channel, number>>): Sample["values"] {
    const recorder = startRecorder({ ...station, driftKpaPerDay }, 5);
    while (recorder.nextMs < 10 * day) recorder.next();
    const sample = recorder.next();
    if (sample === undefined) throw new Error("the logger wrote nothing");
    return sample.values;
  }

  test("is off by its rate times the days, and the others are not", () => {
    const [steady, drifted] = [tenDaysOn(), tenDaysOn({ suction_pressure: -0.05 })];
    expect(Number(drifted.suction_pressure) - Number(steady.suction_pressure)).toBeCloseTo(-0.5, 1);
    expect({ ...drifted, suction_pressure: 0 }).toEqual({ ...steady, suction_pressure: 0 });
  });
});
