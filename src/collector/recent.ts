import type { Signal } from "../fleet/signals.ts";
import type { ReadingBatch } from "../terms/batch.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { day, hour, minute } from "../terms/time.ts";
import type { UnitHistory } from "./fleet-view.ts";

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

/** The extremes of every signal that has values in `fromMs…toMs`, in `points` spans of equal length. */
export function historyOf(
  recent: Recent,
  unit: string,
  fromMs: number,
  toMs: number,
  points: number,
): UnitHistory {
  const slots = recent.minuteOf.length;
  const span = (toMs - fromMs) / points;
  const timeMs = Array.from({ length: points }, (_, k) => fromMs + (k + 0.5) * span);
  const signals: UnitHistory["signals"][number][] = [];
  for (const [s, { channel, part }] of recent.signals.entries()) {
    const lows = recent.low[s];
    const highs = recent.high[s];
    if (!lows || !highs) continue;
    const low = new Array<number>(points).fill(Number.NaN);
    const high = new Array<number>(points).fill(Number.NaN);
    for (let m = Math.floor(fromMs / minute); m * minute < toMs; m++) {
      const slot = ((m % slots) + slots) % slots;
      if (recent.minuteOf[slot] !== m || Number.isNaN(lows[slot])) continue;
      // A span shorter than a minute shows the minute that it lies in.
      const first = Math.max(0, Math.floor((m * minute - fromMs) / span));
      const last = Math.min(points - 1, Math.max(first, Math.ceil(((m + 1) * minute - fromMs) / span) - 1));
      for (let k = first; k <= last; k++) {
        if (!(lows[slot] >= low[k])) low[k] = lows[slot];
        if (!(highs[slot] <= high[k])) high[k] = highs[slot];
      }
    }
    if (low.some((x) => !Number.isNaN(x))) signals.push({ channel, part, low, high });
  }
  return {
    unit,
    fromMs,
    toMs,
    timeMs,
    signals,
    events: recent.events
      .filter((event) => event.timeMs >= fromMs && event.timeMs <= toMs)
      .map(({ timeMs: at, alarm, event }) => ({ timeMs: at, alarm, event })),
  };
}
