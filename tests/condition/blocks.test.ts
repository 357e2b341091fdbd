import { describe, expect, it } from "vitest";
import { concludeBlocks, dropOlderBlocks, fillBlock, startBlocks } from "../../src/condition/blocks.ts";
import { randomFrom } from "../../src/simulate/random.ts";
import { channelIndex } from "../../src/terms/channels.ts";
import { conditionStretches } from "../support/conditioned.ts";
import { clean, type Stretch, unitOf } from "../support/unit-days.ts";

/** A window of `blocks` blocks with `each` readings a block, a row by its number. */
function window(blocks: number, each: number, row: (reading: number) => readonly number[]) {
  const filled = startBlocks(row(0).length);
  for (let i = 0; i < blocks * each; i++) {
    const values = row(i);
    fillBlock(filled, Math.floor(i / each), (s) => values[s]);
  }
  return filled;
}

describe("how signals move together over clean running", () => {
  it("is the robust covariance of block means: a block of n readings has 1/n of their variance", () => {
    const random = randomFrom(5);
    const rows = Array.from({ length: 8000 }, () => {
      const duty = random.normal();
      return [9 + 0.2 * duty, 86 + 2 * duty + 2 * random.normal()];
    });
    const together = concludeBlocks(
      window(400, 20, (i) => rows[i]),
      60_000,
    );
    expect(together?.signals).toEqual([0, 1]);
    const [[current, both], [, pressure]] = together?.covariance ?? [[], []];
    expect(together?.mean[1]).toBeCloseTo(86, 0);
    expect(Math.sqrt(20 * current)).toBeCloseTo(0.2, 1);
    expect(Math.sqrt(20 * pressure) / Math.sqrt(8)).toBeCloseTo(1, 0);
    expect(both / Math.sqrt(current * pressure)).toBeCloseTo(Math.SQRT1_2, 1);
  });

  it("leaves out a signal that is missing in a block, and is nothing where fewer than ten blocks were seen", () => {
    const gap = (i: number) => [Math.sin(i), i >= 40 && i < 60 ? Number.NaN : Math.cos(i)];
    expect(concludeBlocks(window(30, 10, gap), 60_000)?.signals).toEqual([0]);
    expect(concludeBlocks(window(9, 10, gap), 60_000)).toBeNull();
  });

  it("takes a flow that stood at two levels for as wide as both, though most of it was at one", () => {
    const flow = (i: number) => [(i % 100 < 55 ? 25 : 124) + Math.sin(i)];
    const together = concludeBlocks(window(100, 1, flow), 60_000);
    expect(Math.sqrt(together?.covariance[0][0] ?? 0)).toBeGreaterThan(60);
  });

  it("gives a signal that never moves a spread above nothing", () => {
    const together = concludeBlocks(
      window(30, 5, (i) => [115, Math.sin(i)]),
      60_000,
    );
    expect(together?.covariance[0][0]).toBeGreaterThan(0);
  });

  it("forgets its older half", () => {
    const blocks = window(30, 2, (i) => [i < 30 ? 0 : 10]);
    dropOlderBlocks(blocks, 15);
    expect(blocks.means[0]).toEqual(new Array(15).fill(10));
  });

  it("is learned with the baseline, from minutes whatever the sampling", () => {
    const day: Stretch = { seconds: 3 * 3600, values: clean };
    for (const every of [1, 10, 60]) {
      const together = conditionStretches(unitOf(), [day], every).baseline?.together;
      const k = together?.signals.indexOf(channelIndex.motor_current) ?? -1;
      expect(together?.blockMs).toBe(60_000);
      expect(Math.abs((together?.mean[k] ?? 0) - 9.3)).toBeLessThan(0.02);
      expect(together?.signals).not.toContain(channelIndex.voltage);
    }
  });
});
