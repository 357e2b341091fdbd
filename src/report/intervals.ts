/** A stretch of time, ms: from `fromMs` on and before `toMs`. */
export interface Interval {
  readonly fromMs: number;
  readonly toMs: number;
}

/** All that is in any of the intervals, in order of time, without overlaps. */
export function union(intervals: readonly Interval[]): Interval[] {
  const joined: { fromMs: number; toMs: number }[] = [];
  for (const { fromMs, toMs } of intervals.toSorted((a, b) => a.fromMs - b.fromMs)) {
    if (!(toMs > fromMs)) continue;
    const last = joined.at(-1);
    if (last !== undefined && fromMs <= last.toMs) last.toMs = Math.max(last.toMs, toMs);
    else joined.push({ fromMs, toMs });
  }
  return joined;
}

/** What is in `a` and in `b`. */
export function intersection(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const left = union(a);
  const right = union(b);
  const both: Interval[] = [];
  for (let i = 0, j = 0; i < left.length && j < right.length; ) {
    const fromMs = Math.max(left[i].fromMs, right[j].fromMs);
    const toMs = Math.min(left[i].toMs, right[j].toMs);
    if (toMs > fromMs) both.push({ fromMs, toMs });
    if (left[i].toMs < right[j].toMs) i++;
    else j++;
  }
  return both;
}

/** What is in `a` and not in `b`. */
export function difference(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const holes = union(b);
  const gaps: Interval[] = [];
  let fromMs = Number.NEGATIVE_INFINITY;
  for (const hole of holes) {
    gaps.push({ fromMs, toMs: hole.fromMs });
    fromMs = hole.toMs;
  }
  gaps.push({ fromMs, toMs: Number.POSITIVE_INFINITY });
  return intersection(a, gaps);
}

/** How long they last together, ms; those given overlap nowhere. */
export function lengthOf(intervals: readonly Interval[]): number {
  return intervals.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
}
