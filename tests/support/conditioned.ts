import { condition } from "../../src/condition/condition.ts";
import { type ConditionState, featureColumns, startCondition } from "../../src/condition/condition-state.ts";
import { type Baseline, operating, water } from "../../src/condition/features.ts";
import { wantedRunning } from "../../src/fleet/schedule.ts";
import { signalsOf } from "../../src/fleet/signals.ts";
import type { Unit } from "../../src/fleet/unit.ts";
import type { ReadingBatch } from "../../src/terms/batch.ts";
import { type Channel, channelIndex } from "../../src/terms/channels.ts";
import { iso } from "../../src/terms/time.ts";
import { readings, type Stretch } from "./unit-days.ts";

/** What conditioning made of a batch, in words, a row a reading. */
export interface Conditioned {
  readonly state: ConditionState;
  readonly timeMs: Float64Array;
  readonly states: readonly string[];
  readonly water: readonly string[];
  readonly sinceStartS: readonly number[];
  readonly sinceStopS: readonly number[];
  value(channel: Channel): readonly number[];
  readonly baseline: Baseline | null;
  /** Time of the reading that completed the baseline, as `00:40:10`. */
  readonly learnedAt: string | null;
}

function word(codes: Readonly<Record<string, number>>, code: number): string {
  return Object.entries(codes).find(([, c]) => c === code)?.[0] ?? "?";
}

function conditionBatch(unit: Unit, batch: ReadingBatch): Conditioned {
  const signals = signalsOf(unit);
  const state = startCondition(unit, signals);
  const columns = featureColumns(batch.rows, signals.length);
  const conditioned = { unit, wanted: wantedRunning(unit, "UTC") };
  let learnedAt: string | null = null;
  for (let from = 0; from < batch.rows; ) {
    from = condition(state, conditioned, batch, from, columns);
    if (state.baseline !== null) learnedAt ??= iso(batch.timeMs[from - 1]).slice(11, 19);
  }
  return {
    state,
    timeMs: batch.timeMs,
    states: [...columns.state].map((code) => word(operating, code)),
    water: [...columns.water].map((code) => word(water, code)),
    sinceStartS: [...columns.sinceStartMs].map((ms) => ms / 1000),
    sinceStopS: [...columns.sinceStopMs].map((ms) => ms / 1000),
    value: (channel) => [...columns.value[channelIndex[channel]]],
    baseline: state.baseline,
    learnedAt,
  };
}

export function conditionStretches(unit: Unit, stretches: readonly Stretch[], every = 10): Conditioned {
  return conditionBatch(unit, readings(stretches, every));
}

/** The operating state as spells, a line each: `00:10:00 stopped`. */
export function spells({ states, timeMs }: Conditioned): string[] {
  return states.flatMap((state, row) =>
    row > 0 && states[row - 1] === state ? [] : [`${iso(timeMs[row]).slice(11, 19)} ${state}`],
  );
}

/** A baseline's centre of a channel. */
export function centre(baseline: Baseline | null, channel: Channel): number | undefined {
  return baseline?.signals[channelIndex[channel]]?.center;
}
