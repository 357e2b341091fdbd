import type { Signal } from "../fleet/signals.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import type { UnitHistory } from "./fleet-view.ts";

/** Extremes of a unit's signals over `points` spans of equal length, as they are gathered; by signal, NaN where nothing was read. */
export interface Points {
  readonly fromMs: number;
  readonly toMs: number;
  readonly points: number;
  readonly low: (Float64Array | undefined)[];
  readonly high: (Float64Array | undefined)[];
  /** The longest span that a point was drawn from, ms; 0 where it was readings alone. */
  readonly stepMs: Float64Array;
}

export function startPoints(fromMs: number, toMs: number, points: number): Points {
  return { fromMs, toMs, points, low: [], high: [], stepMs: new Float64Array(points) };
}

/** How much time a point shows, ms. */
export function pointMs({ fromMs, toMs, points }: Pick<Points, "fromMs" | "toMs" | "points">): number {
  return (toMs - fromMs) / points;
}

/** Takes in the extremes of one signal between `fromMs` and `toMs`, which come from a span of `stepMs`. */
export function takeSpan(
  into: Points,
  signal: number,
  fromMs: number,
  toMs: number,
  stepMs: number,
  low: number,
  high: number,
): void {
  if (Number.isNaN(low) || toMs <= into.fromMs || fromMs >= into.toMs) return;
  const each = pointMs(into);
  const first = Math.max(0, Math.floor((fromMs - into.fromMs) / each));
  const last = Math.min(into.points - 1, Math.max(first, Math.ceil((toMs - into.fromMs) / each) - 1));
  const lows = columnOf(into.low, signal, into.points);
  const highs = columnOf(into.high, signal, into.points);
  for (let point = first; point <= last; point++) {
    if (!(low >= lows[point])) lows[point] = low;
    if (!(high <= highs[point])) highs[point] = high;
    if (stepMs > into.stepMs[point]) into.stepMs[point] = stepMs;
  }
}

/** Takes in a batch's readings. */
export function takeReadings(into: Points, batch: ReadingBatch): void {
  const each = pointMs(into);
  for (const [signal, column] of batch.columns.entries()) {
    if (column === undefined) continue;
    for (let row = 0; row < batch.rows; row++) {
      const x = column[row];
      const point = Math.floor((batch.timeMs[row] - into.fromMs) / each);
      if (!Number.isFinite(x) || point < 0 || point >= into.points) continue;
      const lows = columnOf(into.low, signal, into.points);
      const highs = columnOf(into.high, signal, into.points);
      if (!(x >= lows[point])) lows[point] = x;
      if (!(x <= highs[point])) highs[point] = x;
    }
  }
}

function columnOf(columns: (Float64Array | undefined)[], signal: number, points: number): Float64Array {
  const column = columns[signal] ?? new Float64Array(points).fill(Number.NaN);
  columns[signal] = column;
  return column;
}

/** `coarse` with the points of `fine` for which `isFine` is true, whether or not those have readings. */
export function refined(coarse: Points, fine: Points, isFine: (point: number) => boolean): Points {
  const whole = startPoints(coarse.fromMs, coarse.toMs, coarse.points);
  const signals = Math.max(coarse.low.length, fine.low.length);
  for (let point = 0; point < coarse.points; point++) {
    const from = isFine(point) ? fine : coarse;
    whole.stepMs[point] = from.stepMs[point];
    for (let signal = 0; signal < signals; signal++) {
      const low = from.low[signal]?.[point];
      const high = from.high[signal]?.[point];
      if (low === undefined || high === undefined || Number.isNaN(low)) continue;
      columnOf(whole.low, signal, whole.points)[point] = low;
      columnOf(whole.high, signal, whole.points)[point] = high;
    }
  }
  return whole;
}

/** The points as a screen gets them. */
export function shownPoints(
  from: Points,
  signals: readonly Signal[],
): Pick<UnitHistory, "fromMs" | "toMs" | "timeMs" | "signals" | "coarsestMs"> {
  const each = pointMs(from);
  return {
    fromMs: from.fromMs,
    toMs: from.toMs,
    timeMs: Array.from({ length: from.points }, (_, k) => from.fromMs + (k + 0.5) * each),
    signals: signals.flatMap(({ channel, part }, s) => {
      const low = from.low[s];
      const high = from.high[s];
      return low === undefined || high === undefined
        ? []
        : [{ channel, part, low: [...low], high: [...high] }];
    }),
    coarsestMs: from.stepMs.reduce((most, step) => Math.max(most, step), 0),
  };
}
