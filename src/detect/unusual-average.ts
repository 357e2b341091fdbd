import { type Features, operating } from "../condition/features.ts";
import { verdict } from "./rule.ts";
import type { UnusualModel } from "./unusual-model.ts";

/** A reading counts for no more than so many spreads, so that what was far off is soon forgotten (house choice). */
export const mostSpreads = 10;
/** A step between readings counts for no more than so many sample intervals: one reading does not stand for a gap. */
const longestStep = 3;

/** Where the averages of a unit stand; plain data. */
export interface Averages {
  /** Average deviations by signal of the model, in spreads; empty while the pump has not settled. */
  averages: number[];
  /** The last reading that they have taken in. */
  atMs: number;
}

/** Which rows are judged: once the pump has settled for `settleMs`, and a reading every `everyMs` at most. */
export interface Judging {
  readonly settleMs: number;
  readonly everyMs: number;
}

/** What a call makes of its rows; made once and used again by the next call. */
interface Taken {
  /** How many rows are judged, and which: numbers from the call's first row on. */
  count: number;
  rows: Int32Array;
  /** A number each: the share it has in the averages, negative where they start anew from clean with it. */
  shares: Float64Array;
  /** A number each: the sum of the squared averages. */
  sums: Float64Array;
  /** A number each by signal of the model. */
  averages: Float64Array[];
}

const taken: Taken = {
  count: 0,
  rows: new Int32Array(0),
  shares: new Float64Array(0),
  sums: new Float64Array(0),
  averages: [],
};

/**
 * Goes on with the averages over the rows, a signal at a time, and tells which rows are to be judged. Writes the
 * verdict of the others: `no` while the pump stands or settles, `hold` where nothing is known or it is not yet time.
 */
export function averageDeviations(
  memory: Averages,
  model: UnusualModel,
  features: Features,
  from: number,
  to: number,
  judging: Judging,
  met: Uint8Array,
): Readonly<Taken> {
  makeRoom(to - from, model.signals.length);
  const before = memory.averages;
  const goesOn = takeRows(memory, model.tauMs, features, from, to, judging, met);
  taken.sums.fill(0, 0, taken.count);
  const after: number[] = [];
  for (const [k, signal] of model.signals.entries()) {
    after.push(average(features.value[signal], from, model, k, before[k] ?? 0));
  }
  memory.averages = goesOn ? after : [];
  return taken;
}

function makeRoom(rows: number, signals: number): void {
  if (taken.rows.length < rows) {
    const length = Math.max(rows, 1024);
    taken.rows = new Int32Array(length);
    taken.shares = new Float64Array(length);
    taken.sums = new Float64Array(length);
    taken.averages = [];
  }
  while (taken.averages.length < signals) taken.averages.push(new Float64Array(taken.rows.length));
}

/** Whether the pump still runs settled at the last row. */
function takeRows(
  memory: Averages,
  tauMs: number,
  { state, settledMs, timeMs, intervalMs }: Features,
  from: number,
  to: number,
  { settleMs, everyMs }: Judging,
  met: Uint8Array,
): boolean {
  let beforeMs = memory.averages.length > 0 ? memory.atMs : Number.NaN;
  let stepMs = Number.NaN;
  let share = 0;
  taken.count = 0;
  for (let row = from; row < to; row++) {
    if (state[row] !== operating.running || settledMs[row] < settleMs) {
      met[row] = state[row] === operating.unknown ? verdict.hold : verdict.no;
      beforeMs = Number.NaN;
      continue;
    }
    const t = timeMs[row];
    if (t - beforeMs < everyMs) {
      met[row] = verdict.hold;
      continue;
    }
    const fresh = Number.isNaN(beforeMs);
    const longestMs = longestStep * Math.max(intervalMs, everyMs);
    const dtMs = fresh ? Math.max(intervalMs, everyMs) : Math.min(t - beforeMs, longestMs);
    if (dtMs !== stepMs) {
      stepMs = dtMs;
      share = -Math.expm1(-dtMs / tauMs);
    }
    taken.rows[taken.count] = row - from;
    taken.shares[taken.count++] = fresh ? -share : share;
    beforeMs = t;
  }
  memory.atMs = beforeMs;
  return !Number.isNaN(beforeMs);
}

/** Averages one signal and adds its square to the sums; returns the last average. */
function average(column: Float64Array, from: number, model: UnusualModel, k: number, before: number): number {
  const mean = model.mean[k];
  const perSpread = model.perSpread[k];
  const { count, rows, shares, sums } = taken;
  const into = taken.averages[k];
  let last = before;
  for (let j = 0; j < count; j++) {
    let share = shares[j];
    if (share < 0) {
      last = 0;
      share = -share;
    }
    const spreads = (column[from + rows[j]] - mean) * perSpread;
    if (Math.abs(spreads) <= mostSpreads) last += share * (spreads - last);
    else if (!Number.isNaN(spreads)) last += share * (Math.sign(spreads) * mostSpreads - last);
    into[j] = last;
    sums[j] += last * last;
  }
  return last;
}
