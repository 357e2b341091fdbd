import { describe, expect, it } from "vitest";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { dry, stopped } from "../support/fleets.ts";
import { clean, midnight, readings, rowsOf, run, start, unitOf } from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, motor: { full_load_current: 10 A } }");

/** A minute's stand, and the readings of a start: pressure in the first two rows, none in the third. */
function started(secondRowAfterS: number): ReadingBatch {
  const batch = readings([
    { seconds: 60, values: stopped },
    { seconds: 20, values: clean },
    { seconds: 10, values: { ...clean(20), ...dry } },
  ]);
  batch.timeMs[7] = midnight + (60 + secondRowAfterS) * 1000;
  return batch;
}

const primed = (...batches: readonly ReadingBatch[]): boolean => {
  const state = start(unit);
  run(state, ...batches.map((batch) => ({ kind: "readings", batch }) as const));
  return state.condition.primed;
};

describe("a row that completes one of the same time", () => {
  it("is no second reading of pressure: it does not establish prime", () => {
    expect(primed(started(0))).toBe(false);
    expect(primed(started(10))).toBe(true);
  });

  it("is none either where it is read later than the row it completes", () => {
    const batch = started(0);
    expect(primed(rowsOf(batch, 0, 7), rowsOf(batch, 7, 9))).toBe(false);
    const apart = started(10);
    expect(primed(rowsOf(apart, 0, 7), rowsOf(apart, 7, 9))).toBe(true);
  });
});
