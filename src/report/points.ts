import { day, hour, minute } from "../terms/time.ts";
import type { Interval } from "./intervals.ts";
import type { Span } from "./spans.ts";

/** A signal over one stretch of a plot. */
export interface Point extends Interval {
  readonly least: number;
  readonly mean: number;
  readonly most: number;
}

const steps = [10 * minute, 30 * minute, hour, 3 * hour, 6 * hour, 12 * hour, day, 7 * day, 30 * day];
const mostPoints = 250;

/** How long a point of a plot over a period lasts, ms: no less than the longest span, and few enough to be seen. */
export function pointStep(spans: readonly Span[], { fromMs, toMs }: Interval): number {
  const longest = spans.reduce((most, span) => Math.max(most, span.toMs - span.fromMs), 0);
  const fits = (step: number): boolean => step >= longest && (toMs - fromMs) / step <= mostPoints;
  return steps.find(fits) ?? steps[steps.length - 1];
}

/** A signal by stretches of `stepMs`, in order of time: those in which it was read. */
export function pointsOf(spans: readonly Span[], signal: number, stepMs: number): Point[] {
  const points: (Point & { weightMs: number })[] = [];
  for (const span of spans) {
    const reading = span.of(signal);
    if (reading === undefined) continue;
    const fromMs = Math.floor(span.fromMs / stepMs) * stepMs;
    const weightMs = span.toMs - span.fromMs;
    const last = points.at(-1);
    if (last?.fromMs !== fromMs) {
      const { min, mean, max } = reading;
      points.push({ fromMs, toMs: fromMs + stepMs, least: min, mean, most: max, weightMs });
      continue;
    }
    const whole = last.weightMs + weightMs;
    points[points.length - 1] = {
      ...last,
      least: Math.min(last.least, reading.min),
      mean: last.mean + ((reading.mean - last.mean) * weightMs) / whole,
      most: Math.max(last.most, reading.max),
      weightMs: whole,
    };
  }
  return points.map(({ weightMs: _, ...point }) => point);
}
