import { fourDigits } from "../terms/number.ts";
import { hour, minute } from "../terms/time.ts";
import type { Recent } from "./recent.ts";

/** The last two hours of a unit's discharge pressure, oldest first: it falls with most of what goes wrong. */
export interface TrendView {
  /** The middle of the extremes of each ten minutes, kPa; null where nothing was read. */
  readonly values: readonly (number | null)[];
  /** The end of the last ten minutes. */
  readonly toMs: number;
}

const points = 12;
/** How far the trend reaches back, ms. */
export const trendMs = 2 * hour;
const spanMinutes = trendMs / points / minute;

/** A unit's trend up to `nowMs`; undefined where fewer than two of its points were read. */
export function trendOf(recent: Recent, nowMs: number): TrendView | undefined {
  const signal = recent.signals.findIndex(
    ({ channel, part }) => channel === "discharge_pressure" && part === 0,
  );
  const low = recent.low[signal];
  const high = recent.high[signal];
  if (!low || !high) return undefined;
  const slots = recent.minuteOf.length;
  const end = Math.floor(nowMs / minute) + 1;
  const values = Array.from({ length: points }, (_, point) => {
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    for (let back = 1; back <= spanMinutes; back++) {
      const m = end - (points - 1 - point) * spanMinutes - back;
      const slot = ((m % slots) + slots) % slots;
      if (recent.minuteOf[slot] !== m || Number.isNaN(low[slot])) continue;
      least = Math.min(least, low[slot]);
      most = Math.max(most, high[slot]);
    }
    return least > most ? null : fourDigits((least + most) / 2);
  });
  return values.filter((value) => value !== null).length < 2 ? undefined : { values, toMs: end * minute };
}
