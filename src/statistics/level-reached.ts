import { median } from "simple-statistics";
import type { Trend } from "./trend.ts";

/** When a line reaches a level, in the unit of its times; +∞ where it never does. */
export interface LevelReached {
  readonly at: number;
  readonly earliest: number;
  readonly latest: number;
}

/**
 * When a rising trend reaches `level`, and the span that the interval of its slope allows. The line turns about the
 * median time, where it is known best. `times` are those of the trend; a level that is passed already gives the
 * time at which it was. Cost: a median.
 * Source: the line and slopes of H. Theil (1950) and P. K. Sen (1968) as in `theil-sen.ts`.
 */
export function levelReached(trend: Trend, times: readonly number[], level: number): LevelReached {
  const middle = median(times as number[]);
  const left = level - (trend.intercept + trend.slope * middle);
  const after = (slope: number) => (slope > 0 ? middle + left / slope : Number.POSITIVE_INFINITY);
  const ends = [after(trend.high), after(trend.low)];
  return { at: after(trend.slope), earliest: Math.min(...ends), latest: Math.max(...ends) };
}
