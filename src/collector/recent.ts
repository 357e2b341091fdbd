import type { Signal } from "../fleet/signals.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { day, hour, minute } from "../terms/time.ts";

/** A unit's last hours for strip charts: extremes of each signal by the minute, in a ring. */
export interface Recent {
  readonly signals: readonly Signal[];
  /** Which minute since 1970 a slot holds; -1 while empty. */
  readonly minuteOf: Float64Array;
  /** By signal; null until the signal has a value. */
  readonly low: (Float32Array | null)[];
  readonly high: (Float32Array | null)[];
  readonly events: AlarmEvent[];
}

const usualSlots = (day + hour) / minute;
const mostEvents = 200;

/** `slots`: how many minutes are kept; by default 25 hours. */
export function startRecent(signals: readonly Signal[], slots = usualSlots): Recent {
  return {
    signals,
    minuteOf: new Float64Array(slots).fill(-1),
    low: signals.map(() => null),
    high: signals.map(() => null),
    events: [],
  };
}

/** Takes in the readings of a batch. */
export function remember(recent: Recent, batch: ReadingBatch): void {
  const { minuteOf, low, high } = recent;
  const slots = minuteOf.length;
  for (let row = 0; row < batch.rows; row++) {
    const m = Math.floor(batch.timeMs[row] / minute);
    const slot = m % slots;
    if (minuteOf[slot] > m) continue;
    if (minuteOf[slot] !== m) {
      minuteOf[slot] = m;
      for (const column of low) if (column) column[slot] = Number.NaN;
      for (const column of high) if (column) column[slot] = Number.NaN;
    }
    for (let s = 0; s < recent.signals.length; s++) {
      const x = batch.columns[s]?.[row];
      if (x === undefined || !Number.isFinite(x)) continue;
      const lows = columnOf(low, s, slots);
      const highs = columnOf(high, s, slots);
      if (!(x >= lows[slot])) lows[slot] = x;
      if (!(x <= highs[slot])) highs[slot] = x;
    }
  }
}

function columnOf(columns: (Float32Array | null)[], signal: number, slots: number): Float32Array {
  const column = columns[signal] ?? new Float32Array(slots).fill(Number.NaN);
  columns[signal] = column;
  return column;
}

/** Keeps an event for the charts. */
export function rememberEvent(recent: Recent, event: AlarmEvent): void {
  recent.events.push(event);
  if (recent.events.length > mostEvents) recent.events.splice(0, recent.events.length - mostEvents);
}

/** The beginning of the oldest minute that is kept, ms; +∞ where none is. */
export function firstMinuteMs({ minuteOf }: Recent): number {
  let first = Number.POSITIVE_INFINITY;
  for (const m of minuteOf) if (m >= 0 && m < first) first = m;
  return first * minute;
}
