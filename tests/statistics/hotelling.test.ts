import fc from "fast-check";
import { expect, test } from "vitest";
import { randomFrom } from "../../src/simulate/random.ts";
import { contributions, hotellingModel, newReadingLimit, tSquared } from "../../src/statistics/hotelling.ts";
import {
  residualContributions,
  residualLimit,
  residualModel,
  squaredResidual,
} from "../../src/statistics/principal-residual.ts";
import { robustCovariance } from "../../src/statistics/robust-covariance.ts";
import { covarianceOf, problem } from "./covariances.ts";

/** Current, discharge and gas pressure that follow one cause, and a temperature of its own. */
function pumpReadings(n: number, seed: number): number[][] {
  const random = randomFrom(seed);
  const signals: number[][] = [[], [], [], []];
  for (let i = 0; i < n; i++) {
    const duty = random.normal();
    signals[0].push(9 + 0.2 * duty + 0.05 * random.normal());
    signals[1].push(86 + 2 * duty + 0.5 * random.normal());
    signals[2].push(30 - 0.5 * duty + 0.2 * random.normal());
    signals[3].push(55 + 1.5 * random.normal());
  }
  return signals;
}

const leastSpreads = [0.01, 0.1, 0.1, 0.1];
const learnt = robustCovariance(pumpReadings(720, 1), leastSpreads);
const at = (signals: number[][], i: number) => signals.map((values) => values[i]);

test("a signal's contribution is T² less the T² of the other signals alone", () => {
  fc.assert(
    fc.property(problem, ({ loadings, reading }) => {
      const covariance = covarianceOf(loadings);
      const mean = reading.map(() => 1);
      const model = hotellingModel({ mean, covariance });
      const all = tSquared(model, reading);
      const parts = contributions(model, reading);
      for (const [out, part] of parts.entries()) {
        const others = <T>(list: readonly T[]) => list.filter((_, i) => i !== out);
        const without = hotellingModel({ mean: others(mean), covariance: others(covariance).map(others) });
        const rest = tSquared(without, others(reading));
        expect(Math.abs(all - rest - part)).toBeLessThan(1e-7 * (1 + all));
      }
    }),
  );
});

test("T² and Q do not depend on the signals' units", () => {
  fc.assert(
    fc.property(problem, ({ loadings, reading }) => {
      const covariance = covarianceOf(loadings);
      const mean = reading.map(() => 1);
      const unit = (i: number) => 2 ** (i - 2);
      const scaled = {
        mean: mean.map((value, i) => value * unit(i)),
        covariance: covariance.map((row, i) => row.map((c, j) => c * unit(i) * unit(j))),
      };
      const inUnits = reading.map((value, i) => value * unit(i));
      const one = tSquared(hotellingModel({ mean, covariance }), reading);
      expect(Math.abs(tSquared(hotellingModel(scaled), inUnits) - one)).toBeLessThan(1e-7 * (1 + one));
      const two = squaredResidual(residualModel({ mean, covariance }), reading);
      expect(squaredResidual(residualModel(scaled), inUnits)).toBeCloseTo(two, 6);
    }),
  );
});

test("1 % of new readings of a healthy pump pass the 1 % limits, of T² and of Q", () => {
  const model = hotellingModel(learnt);
  const residual = residualModel(learnt, 0.8);
  const tLimit = newReadingLimit(4, 720, 0.01);
  const qLimit = residualLimit(residual, 0.01);
  const fresh = pumpReadings(5000, 2);
  let [past, pastQ] = [0, 0];
  for (let i = 0; i < 5000; i++) {
    if (tSquared(model, at(fresh, i)) > tLimit) past++;
    if (squaredResidual(residual, at(fresh, i)) > qLimit) pastQ++;
  }
  for (const share of [past / 5000, pastQ / 5000]) {
    expect(share).toBeGreaterThan(0.004);
    expect(share).toBeLessThan(0.02);
  }
});

test("current up while discharge pressure is down: each within its range, together unusual, and current and pressure are named", () => {
  const odd = [9.3, 84, 30, 55];
  const model = hotellingModel(learnt);
  expect(tSquared(model, odd)).toBeGreaterThan(2 * newReadingLimit(4, 720, 0.001));
  expect(tSquared(model, [9.3, 89, 29.25, 55])).toBeLessThan(newReadingLimit(4, 720, 0.01));
  const parts = contributions(model, odd);
  expect(Math.min(parts[0], parts[1])).toBeGreaterThan(10 * Math.max(parts[3], 1));
  const residual = residualModel(learnt, 0.8);
  expect(squaredResidual(residual, odd)).toBeGreaterThan(residualLimit(residual, 0.001));
  const shares = residualContributions(residual, odd);
  expect(shares.reduce((sum, part) => sum + part, 0)).toBeCloseTo(squaredResidual(residual, odd), 9);
  expect(Math.max(shares[2], shares[3])).toBeLessThan(Math.min(shares[0], shares[1]));
});

test("one reading in ten far off leaves centre and covariance nearly where they were", () => {
  const signals = pumpReadings(720, 1);
  for (let i = 0; i < 720; i += 10) {
    signals[0][i] = 30;
    signals[1][i] = -50;
  }
  const soiled = robustCovariance(signals, leastSpreads);
  for (let i = 0; i < 4; i++) {
    const spread = Math.sqrt(learnt.covariance[i][i]);
    expect(Math.abs(soiled.mean[i] - learnt.mean[i])).toBeLessThan(0.25 * spread);
    for (let j = 0; j < 4; j++) {
      const both = spread * Math.sqrt(learnt.covariance[j][j]);
      expect(Math.abs(soiled.covariance[i][j] - learnt.covariance[i][j])).toBeLessThan(0.4 * both);
    }
  }
});

test("correlation of clean normal readings is found within a few hundredths", () => {
  const { covariance } = robustCovariance(pumpReadings(5000, 4), leastSpreads);
  const correlation = covariance[0][1] / Math.sqrt(covariance[0][0] * covariance[1][1]);
  expect(Math.abs(correlation - 0.4 / Math.sqrt(0.0425 * 4.25))).toBeLessThan(0.03);
});

test("a sensor that never moves and two that say the same still give a T² that can be worked out", () => {
  const [current, pressure] = pumpReadings(200, 3);
  const stuck = current.map(() => 30);
  const signals = [current, current, pressure, stuck];
  const { mean, covariance } = robustCovariance(signals, leastSpreads);
  const model = hotellingModel({ mean, covariance });
  expect(tSquared(model, mean)).toBe(0);
  expect(Number.isFinite(tSquared(model, [9.4, 9.2, 86, 30.1]))).toBe(true);
  expect(() =>
    hotellingModel({
      mean: [0, 0],
      covariance: [
        [1, 1],
        [1, 1],
      ],
    }),
  ).toThrow("shrink it first");
});

test("a missing signal gives NaN, never a distance that looks well; the models survive JSON", () => {
  const model = hotellingModel(learnt);
  const residual = residualModel(learnt);
  expect(tSquared(model, [9, 86, Number.NaN, 55])).toBeNaN();
  expect(squaredResidual(residual, [9, 86, Number.NaN, 55])).toBeNaN();
  expect(JSON.parse(JSON.stringify({ model, residual }))).toEqual({ model, residual });
});

test("components are kept until they hold their share, all but one at most", () => {
  expect(residualModel(learnt, 0).axes).toHaveLength(4);
  expect(residualModel(learnt, 0.8).axes).toHaveLength(2);
  expect(residualModel(learnt, 1).axes).toHaveLength(1);
});
