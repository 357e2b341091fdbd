import type { Interval } from "./intervals.ts";

/** One signal over consecutive spans: least, mean and most of each; NaN where it was not read. */
export interface SignalLevel {
  readonly signal: number;
  readonly min: ArrayLike<number>;
  readonly mean: ArrayLike<number>;
  readonly max: ArrayLike<number>;
}

/** What a signal can read at all; undefined where everything. */
export type Bounds = { readonly low: number; readonly high: number } | undefined;

/** A unit's signals over consecutive spans of one length. */
export interface Level {
  readonly stepMs: number;
  /** Beginning of the first span, ms. */
  readonly fromMs: number;
  readonly signals: readonly SignalLevel[];
}

/** What one signal was over a span of time. */
export interface Reading {
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}

/** A span of time in which something was read. */
export interface Span extends Interval {
  /** A signal over it; undefined where that was not read. */
  of(signal: number): Reading | undefined;
}

/**
 * The spans of a period in which anything was read, in order of time, each as fine as it is kept; cut to the period at
 * its ends. `levels`: coarsest first, each step a multiple of the next.
 */
export function spansOf(levels: readonly Level[], { fromMs, toMs }: Interval): Span[] {
  const looked = levels.map(lookInto);
  const spans: Span[] = [];
  const fill = (place: number, atMs: number): void => {
    const level = looked[place];
    const finer = looked[place + 1];
    const endMs = atMs + level.stepMs;
    if (endMs <= fromMs || atMs >= toMs) return;
    if (finer && isKnown(looked.slice(place + 1), atMs, endMs)) {
      for (let ms = atMs; ms < endMs; ms += finer.stepMs) fill(place + 1, ms);
    } else if (level.isRead(atMs)) {
      const slot = (atMs - level.fromMs) / level.stepMs;
      spans.push({
        fromMs: Math.max(atMs, fromMs),
        toMs: Math.min(endMs, toMs),
        of: (signal) => level.of(signal, slot),
      });
    }
  };
  const [coarsest] = levels;
  if (coarsest === undefined) return [];
  const { stepMs } = coarsest;
  for (let ms = Math.floor(fromMs / stepMs) * stepMs; ms < toMs; ms += stepMs) fill(0, ms);
  return spans;
}

interface Looked extends Pick<Level, "stepMs" | "fromMs"> {
  isRead(atMs: number): boolean;
  of(signal: number, slot: number): Reading | undefined;
}

function lookInto({ stepMs, fromMs, signals }: Level): Looked {
  const bySignal = new Map(signals.map((one) => [one.signal, one]));
  const read = new Uint8Array(Math.max(0, ...signals.map(({ mean }) => mean.length)));
  for (const { mean } of signals) {
    for (let slot = 0; slot < mean.length; slot++) if (!Number.isNaN(mean[slot])) read[slot] = 1;
  }
  return {
    stepMs,
    fromMs,
    isRead: (atMs) => read[(atMs - fromMs) / stepMs] === 1,
    of(signal, slot) {
      const one = bySignal.get(signal);
      const mean = one?.mean[slot] ?? Number.NaN;
      return one === undefined || Number.isNaN(mean)
        ? undefined
        : { min: one.min[slot], mean, max: one.max[slot] };
    },
  };
}

/** Spans without the signals that went past their bounds within them: a broken line or gauge, and no reading. */
export function withinBounds(spans: readonly Span[], bounds: readonly Bounds[]): Span[] {
  return spans.map((span) => ({
    ...span,
    of(signal) {
      const reading = span.of(signal);
      const bound = bounds[signal];
      if (reading === undefined || bound === undefined) return reading;
      return reading.min < bound.low || reading.max > bound.high ? undefined : reading;
    },
  }));
}

/** Whether any of these levels has a span read from `fromMs` on and before `toMs`. */
function isKnown(levels: readonly Looked[], fromMs: number, toMs: number): boolean {
  return levels.some(({ stepMs, isRead }) => {
    for (let ms = fromMs; ms < toMs; ms += stepMs) if (isRead(ms)) return true;
    return false;
  });
}
