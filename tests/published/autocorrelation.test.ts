import { expect, test } from "vitest";
import { lagOneAutocorrelation } from "../../src/statistics/autocorrelation.ts";
import { startEwma, stepEwma } from "../../src/statistics/ewma.ts";

const mavro = [
  2.0018, 2.0017, 2.0018, 2.0019, 2.0018, 2.0017, 2.0015, 2.0014, 2.0015, 2.0015, 2.0017, 2.0018, 2.0018,
  2.0019, 2.0019, 2.0021, 2.002, 2.0016, 2.0014, 2.0013, 2.0013, 2.0015, 2.0015, 2.0016, 2.0015, 2.0014,
  2.0013, 2.0014, 2.0015, 2.0014, 2.0015, 2.0016, 2.0015, 2.0016, 2.0019, 2.002, 2.002, 2.0021, 2.0022,
  2.0023, 2.0024, 2.0025, 2.0027, 2.0026, 2.0026, 2.0026, 2.0027, 2.0026, 2.0025, 2.0024,
];
const alternating = (base: number) =>
  Array.from({ length: 1001 }, (_, i) => base + (i === 0 ? 0.2 : i % 2 === 1 ? 0.1 : 0.3));

/** Certified lag-1 autocorrelation and, of the same sets, mean and standard deviation. */
const sets = [
  {
    name: "Mavro",
    values: mavro,
    lagOne: 0.937989183438248,
    mean: 2.001856,
    deviation: 0.000429123454003053,
  },
  { name: "NumAcc1", values: [10000001, 10000003, 10000002], lagOne: -0.5, mean: 10000002, deviation: 1 },
  { name: "NumAcc2", values: alternating(1), lagOne: -0.999, mean: 1.2, deviation: 0.1 },
  { name: "NumAcc3", values: alternating(1000000), lagOne: -0.999, mean: 1000000.2, deviation: 0.1 },
];

test.each(sets)("NIST StRD $name: lag-1 autocorrelation $lagOne", ({ values, lagOne }) => {
  expect(lagOneAutocorrelation(values)).toBeCloseTo(lagOne, 8);
});

test.each(sets)(
  "NIST StRD $name: an average that forgets nothing has the mean $mean and the deviation $deviation",
  ({ values, mean, deviation }) => {
    const state = startEwma();
    for (const value of values) stepEwma(state, value, 1e-13);
    const n = values.length;
    expect(state.mean / mean).toBeCloseTo(1, 9);
    expect(Math.sqrt((state.variance * n) / (n - 1)) / deviation).toBeCloseTo(1, 6);
  },
);
