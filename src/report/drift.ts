import { median } from "simple-statistics";
import { day } from "../terms/time.ts";
import type { Interval } from "./intervals.ts";
import type { Span } from "./spans.ts";

/** A signal at steady running: the median of its means early and late in a period, stored unit. */
export interface Drift {
  readonly first: number;
  readonly last: number;
}

/** How much of a period is its beginning and its end: a quarter of it, a week at most (house choice). */
export function endsOf({ fromMs, toMs }: Interval): number {
  return Math.min(7 * day, (toMs - fromMs) / 4);
}

/** Fewer spans tell no median. */
const leastSpans = 3;

/** A signal early and late in a period, by spans throughout which the motor ran; null where either tells too little. */
export function driftOf(ran: readonly Span[], signal: number, period: Interval): Drift | null {
  const endMs = endsOf(period);
  const means = (fromMs: number, toMs: number): number[] =>
    ran.flatMap((span) => {
      const mean = span.fromMs >= fromMs && span.toMs <= toMs ? span.of(signal)?.mean : undefined;
      return mean === undefined ? [] : [mean];
    });
  const first = means(period.fromMs, period.fromMs + endMs);
  const last = means(period.toMs - endMs, period.toMs);
  if (first.length < leastSpans || last.length < leastSpans) return null;
  return { first: median(first), last: median(last) };
}
