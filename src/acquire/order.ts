/** A row that is held or was the last to go: values by signal index, NaN where missing, ±∞ where a loop failed. */
interface OrderedRow {
  timeMs: number;
  values: number[];
}

/** Where one unit's rows stand in order. Plain data, part of a checkpoint. */
export interface OrderState {
  /** The newest time seen; null before the first row. */
  newestMs: number | null;
  /** The last row that went, with what was joined to it; null before the first. */
  last: OrderedRow | null;
  /** Rows held back until none can come before them, by time. */
  held: OrderedRow[];
}

/** What became of a row. */
export type Placed = "taken" | "repeat" | "joined" | "conflict" | "late";

export type Emit = (timeMs: number, values: ArrayLike<number>) => void;

export function newOrder(): OrderState {
  return { newestMs: null, last: null, held: [] };
}

/** How a row of the same time goes together with one that came before; joins its values where they do. */
function join(earlier: number[], values: ArrayLike<number>): "repeat" | "joined" | "conflict" {
  let more = false;
  for (let i = 0; i < earlier.length; i++) {
    const value = values[i] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    const before = earlier[i] ?? Number.NaN;
    if (Number.isNaN(before)) more = true;
    else if (before !== value) return "conflict";
  }
  if (!more) return "repeat";
  for (let i = 0; i < earlier.length; i++) {
    const value = values[i] ?? Number.NaN;
    if (!Number.isNaN(value)) earlier[i] = value;
  }
  return "joined";
}

function release(state: OrderState, row: OrderedRow, emit: Emit): void {
  emit(row.timeMs, row.values);
  state.last = row;
}

function copy(values: ArrayLike<number>): number[] {
  const out = new Array<number>(values.length);
  for (let i = 0; i < values.length; i++) out[i] = values[i] ?? Number.NaN;
  return out;
}

/** The held row of this time, or where it would stand. */
function place(held: readonly OrderedRow[], timeMs: number): { at: number; row: OrderedRow | undefined } {
  let at = held.length;
  while (at > 0 && (held[at - 1]?.timeMs ?? 0) > timeMs) at--;
  const row = held[at - 1];
  return { at, row: row?.timeMs === timeMs ? row : undefined };
}

/**
 * Puts one row in order and emits what may go: rows leave by rising time once they are `withinMs` older
 * than the newest. A row older than that is `late`. A row of a time that has gone already is emitted again
 * with both rows' values where it brings more channels (`joined`), is a `repeat` where it brings nothing
 * new, and a `conflict` where a value differs: then the first stays. Which rows come in one call or in
 * many makes no difference.
 */
export function orderRow(
  state: OrderState,
  withinMs: number,
  timeMs: number,
  values: ArrayLike<number>,
  emit: Emit,
): Placed {
  const { last } = state;
  if (last !== null && timeMs === last.timeMs) {
    const placed = join(last.values, values);
    if (placed === "joined") emit(timeMs, last.values);
    return placed;
  }
  if (
    (state.newestMs !== null && timeMs < state.newestMs - withinMs) ||
    (last !== null && timeMs < last.timeMs)
  ) {
    return "late";
  }
  if (withinMs <= 0) {
    emit(timeMs, values);
    state.newestMs = timeMs;
    if (last === null) state.last = { timeMs, values: copy(values) };
    else {
      last.timeMs = timeMs;
      for (let i = 0; i < last.values.length; i++) last.values[i] = values[i] ?? Number.NaN;
    }
    return "taken";
  }
  const { at, row } = place(state.held, timeMs);
  if (row !== undefined) return join(row.values, values);
  state.held.splice(at, 0, { timeMs, values: copy(values) });
  if (state.newestMs === null || timeMs > state.newestMs) state.newestMs = timeMs;
  const dueMs = state.newestMs - withinMs;
  let due = 0;
  for (const held of state.held) {
    if (held.timeMs > dueMs) break;
    release(state, held, emit);
    due++;
  }
  if (due > 0) state.held.splice(0, due);
  return "taken";
}

/**
 * Takes rows `from…to` of columns as they are, where each would be `taken` and nothing is or need be held;
 * returns how many, from `from` on, that holds for and that are not later than `latestMs`: they are in order
 * now and may go on together.
 */
export function orderRun(
  state: OrderState,
  withinMs: number,
  timeMs: Float64Array,
  columns: readonly (Float64Array | undefined)[],
  from: number,
  to: number,
  latestMs = Number.POSITIVE_INFINITY,
): number {
  if (withinMs > 0 || state.held.length > 0) return 0;
  let before = state.newestMs ?? Number.NEGATIVE_INFINITY;
  let row = from;
  while (row < to && timeMs[row] > before && timeMs[row] <= latestMs) before = timeMs[row++];
  if (row === from) return 0;
  state.newestMs = before;
  state.last = { timeMs: before, values: columns.map((column) => column?.[row - 1] ?? Number.NaN) };
  return row - from;
}

/** Releases every held row, by time: nothing more is waited for. */
export function releaseHeld(state: OrderState, emit: Emit): void {
  for (const row of state.held) release(state, row, emit);
  state.held = [];
}
