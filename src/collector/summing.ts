import type { SignalSummary } from "../store/pack.ts";
import { levels, type StepMs, type SummaryRows } from "../store/summaries.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import { minute } from "../terms/time.ts";

/** One span of time: a value a signal; a count of 0 where nothing was read. */
interface Span {
  fromMs: number;
  min: number[];
  max: number[];
  sum: number[];
  count: number[];
}

/** A unit's readings summed up by the minute, ten minutes and hour. Plain data, part of a checkpoint. */
export interface Summing {
  /** The span that is being filled, a level each; null before the first reading. */
  readonly open: (Span | null)[];
  /** Spans that are full and not yet kept, a level each, oldest first. */
  readonly full: Span[][];
}

export function startSumming(): Summing {
  return { open: levels.map(() => null), full: levels.map(() => []) };
}

function startSpan(fromMs: number, signals: number): Span {
  return {
    fromMs,
    min: new Array(signals).fill(Number.POSITIVE_INFINITY),
    max: new Array(signals).fill(Number.NEGATIVE_INFINITY),
    sum: new Array(signals).fill(0),
    count: new Array(signals).fill(0),
  };
}

/** Takes in a batch in order. A row older than the open minute is left out; so is a span past what is kept at `nowMs`. */
export function sum(summing: Summing, batch: ReadingBatch, signals: number, nowMs: number): void {
  const { timeMs, rows, columns } = batch;
  for (let from = 0; from < rows; ) {
    const spanMs = Math.floor(timeMs[from] / minute) * minute;
    let to = from + 1;
    while (to < rows && timeMs[to] < spanMs + minute && timeMs[to] >= spanMs) to++;
    const span = spanAt(summing, 0, spanMs, signals, nowMs);
    if (span !== null) {
      for (let s = 0; s < signals; s++) {
        const column = columns[s];
        if (column !== undefined) sumColumn(span, s, column, from, to);
      }
    }
    from = to;
  }
}

function sumColumn(span: Span, s: number, column: Float64Array, from: number, to: number): void {
  let low = span.min[s];
  let high = span.max[s];
  let total = span.sum[s];
  let count = span.count[s];
  for (let row = from; row < to; row++) {
    const x = column[row];
    if (!Number.isFinite(x)) continue;
    if (x < low) low = x;
    if (x > high) high = x;
    total += x;
    count++;
  }
  span.min[s] = low;
  span.max[s] = high;
  span.sum[s] = total;
  span.count[s] = count;
}

/** The span of a level that begins at `fromMs`; what was open before is full, and goes into the next level. */
function spanAt(
  summing: Summing,
  level: number,
  fromMs: number,
  signals: number,
  nowMs: number,
): Span | null {
  const open = summing.open[level];
  if (open?.fromMs === fromMs) return open;
  if (open && open.fromMs > fromMs) return null;
  if (open) {
    if (open.fromMs > nowMs - levels[level].keepMs) summing.full[level].push(open);
    // Where a disk takes nothing for days, the oldest go.
    if (summing.full[level].length > 2 * mostInMemory) summing.full[level].shift();
    const next = levels[level + 1];
    if (next) {
      const above = spanAt(
        summing,
        level + 1,
        Math.floor(open.fromMs / next.stepMs) * next.stepMs,
        open.min.length,
        nowMs,
      );
      if (above) addSpan(above, open);
    }
  }
  const span = startSpan(fromMs, signals);
  summing.open[level] = span;
  return span;
}

function addSpan(into: Span, { min, max, sum: sums, count }: Span): void {
  for (let s = 0; s < min.length; s++) {
    into.min[s] = Math.min(into.min[s], min[s]);
    into.max[s] = Math.max(into.max[s], max[s]);
    into.sum[s] += sums[s];
    into.count[s] += count[s];
  }
}

/** Full spans are kept this many at a time: each time rewrites the row that holds them. */
const fewestToKeep = 10;
/** So many of a unit that is not being read are kept at the next look: a fleet's together would fill the memory. */
const mostAtRest = 100;
const mostInMemory = 5000;

/** Whether so many spans are full that they should be kept soon: wherever reading stands, or else `atRest`. */
export function isFull({ full }: Summing, atRest = false): boolean {
  return full.some((spans) => spans.length >= (atRest ? mostAtRest : mostInMemory));
}

/**
 * The full spans that are to be kept now, and what is left once they are: nothing of them where there are
 * few, unless `all`. Those past what is kept at `nowMs` are dropped.
 */
export function takeFull(
  summing: Summing,
  nowMs: number,
  all: boolean,
): { rows: SummaryRows[]; left: Summing } {
  // Where the minutes of an old log are past what is kept, only the longer spans fill.
  if (!all && summing.full.every((spans) => spans.length < fewestToKeep)) return { rows: [], left: summing };
  const rows = levels.flatMap(({ stepMs, packMs, keepMs }, level) =>
    inRuns(
      summing.full[level].filter(({ fromMs }) => fromMs > nowMs - keepMs),
      packMs,
    ).map((run) => rowsOf(run, stepMs)),
  );
  return { rows, left: { open: summing.open, full: levels.map(() => []) } };
}

/** Spans in groups without gaps longer than `mostGapMs`. */
function inRuns(spans: readonly Span[], mostGapMs: number): Span[][] {
  const runs: Span[][] = [];
  let lastMs = Number.NEGATIVE_INFINITY;
  for (const span of spans) {
    if (span.fromMs - lastMs > mostGapMs) runs.push([]);
    runs.at(-1)?.push(span);
    lastMs = span.fromMs;
  }
  return runs;
}

function rowsOf(spans: readonly Span[], stepMs: StepMs): SummaryRows {
  const fromMs = spans[0].fromMs;
  const slots = (spans[spans.length - 1].fromMs - fromMs) / stepMs + 1;
  const signals: SignalSummary[] = [];
  for (let s = 0; s < spans[0].min.length; s++) {
    if (!spans.some(({ count }) => count[s] > 0)) continue;
    const empty = () => new Float32Array(slots).fill(Number.NaN);
    const summary = { signal: s, min: empty(), mean: empty(), max: empty() };
    for (const span of spans) {
      if (span.count[s] === 0) continue;
      const slot = (span.fromMs - fromMs) / stepMs;
      summary.min[slot] = span.min[s];
      summary.mean[slot] = span.sum[s] / span.count[s];
      summary.max[slot] = span.max[s];
    }
    signals.push(summary);
  }
  return { stepMs, fromMs, signals };
}
