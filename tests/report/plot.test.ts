import { expect, it } from "vitest";
import { localTimes } from "../../src/report/local.ts";
import { plotMarkup } from "../../src/report/plot.ts";
import { hour } from "../../src/terms/time.ts";

const axisOf = (...values: readonly number[]): number[] => {
  const points = values.map((mean, at) => ({
    fromMs: at * hour,
    toMs: (at + 1) * hour,
    least: mean,
    mean,
    most: mean,
  }));
  const period = { fromMs: 0, toMs: values.length * hour };
  const drawn = { id: "p", title: "a", description: "b", period, points, baseline: null };
  const { markup } = plotMarkup(drawn, localTimes("UTC"));
  const numbers = [...markup.matchAll(/text-anchor="end">([^<]+)</g)].map(([, text]) => Number(text));
  return [Math.min(...numbers), Math.max(...numbers)];
};

it("an axis spans at least a fifth of the largest reading, so that the noise of a steady motor stays small", () => {
  const [low, high] = axisOf(12.7, 13.1, 12.8);
  expect(high - low).toBeGreaterThanOrEqual(2.6);
  expect(axisOf(-20, -20.1)[1]).toBeLessThan(-17);
});

it("an axis goes below zero where a vacuum is, and not for a gauge at rest that reads a little less than zero", () => {
  expect(axisOf(-0.03, 19.4)).toEqual([0, 20]);
  expect(axisOf(-5, 19.4)[0]).toBeLessThanOrEqual(-5);
});
