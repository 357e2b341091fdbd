import { expect, it } from "vitest";
import { condition } from "../../src/condition/condition.ts";
import { featureColumns, startCondition } from "../../src/condition/condition-state.ts";
import { wantedRunning } from "../../src/fleet/schedule.ts";
import { signalsOf } from "../../src/fleet/signals.ts";
import { stopped } from "../support/fleets.ts";
import { clean, readings, type Stretch, unitOf, type Values } from "../support/unit-days.ts";

const unit = unitOf("{ id: LM-01, sample_interval: 10 s, motor: { full_load_current: 9.8 A } }");

/** What conditioning makes of the last stretch of a log that is long enough for a baseline. */
function lastStretch(after: readonly Stretch[]) {
  const batch = readings([{ seconds: 3000, values: clean }, ...after]);
  const signals = signalsOf(unit);
  const state = startCondition(unit, signals);
  const columns = featureColumns(batch.rows, signals.length);
  const conditioned = { unit, wanted: wantedRunning(unit, "UTC") };
  for (let from = 0; from < batch.rows; ) from = condition(state, conditioned, batch, from, columns);
  return columns;
}

it("makes the same of plain running at once as row by row, as where a stop ends it", () => {
  const seconds = 5400;
  const plain = lastStretch([{ seconds, values: clean }]);
  const ended = lastStretch([
    { seconds, values: clean },
    { seconds: 10, values: stopped },
  ]);
  expect([plain.pumping, ended.pumping]).toEqual([true, false]);
  const rows = (3000 + seconds) / 10;
  for (const column of ["state", "water", "wanted", "sinceStartMs", "sinceStopMs", "settledMs"] as const) {
    expect(plain[column].subarray(0, rows)).toEqual(ended[column].subarray(0, rows));
  }
});

it("goes row by row where the discharge gauge, the current or both tell of anything else", () => {
  const low = (s: number) => (s % 30) / 100;
  for (const values of [
    (s: number): Values => ({ ...clean(s), discharge_pressure: 10 + low(s) }),
    (s: number): Values => ({ ...clean(s), motor_current: low(s) }),
    stopped,
  ]) {
    expect(lastStretch([{ seconds: 300, values }]).pumping).toBe(false);
  }
});
