import { describe, expect, it } from "vitest";
import { intervalIsFixed, intervalMs, learnInterval, newInterval } from "../../src/condition/interval.ts";

function learned(timesMs: readonly number[]) {
  const state = newInterval();
  for (const timeMs of timesMs) learnInterval(state, timeMs);
  return state;
}

describe("a unit's sample interval", () => {
  it("is 10 s before the first step", () => {
    expect(intervalMs(learned([]))).toBe(10_000);
    expect(intervalMs(learned([5]))).toBe(10_000);
  });

  it("is the median of the steps so far", () => {
    expect(intervalMs(learned([0, 1000, 2000, 62_000]))).toBe(1000);
    expect(intervalMs(learned([0, 1000, 4000]))).toBe(2000);
  });

  it("learns from 30 steps and then stays, though the logger changes its pace", () => {
    const times = Array.from({ length: 31 }, (_, i) => i * 1000);
    const state = learned(times);
    expect(intervalIsFixed(state)).toBe(true);
    for (let i = 1; i < 100; i++) learnInterval(state, 30_000 + i * 60_000);
    expect(intervalMs(state)).toBe(1000);
  });

  it("does not count a joined row of the same time as a step", () => {
    expect(learned([0, 0, 1000, 1000, 2000]).stepsMs).toEqual([1000, 1000]);
  });

  it("is what the fleet file says where it says so", () => {
    const state = newInterval(60_000);
    for (let i = 0; i < 50; i++) learnInterval(state, i * 1000);
    expect(intervalMs(state)).toBe(60_000);
  });

  it("survives a checkpoint", () => {
    const state = learned([0, 1000, 3000]);
    expect(JSON.parse(JSON.stringify(state))).toEqual(state);
  });
});
