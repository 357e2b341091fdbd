import type { ReadingView } from "../../collector/fleet-view.ts";
import type { TrendView } from "../../collector/trend.ts";
import { scaleOf } from "../indicator.ts";

/** An odd number, so that the middle of a scale is the middle of a step. */
const steps = ["▁", "▂", "▃", "▄", "▅", "▆", "▇"] as const;
/** Without a scale of its own a trend is drawn over so much at least, so that noise looks small, kPa (house choice). */
const leastReachKPa = 5;

/** A unit's trend, a column a point, on the scale of its indicator; `width` columns with the newest at the right. */
export function trendLine(
  trend: TrendView | undefined,
  reading: ReadingView | undefined,
  width: number,
): string {
  if (trend === undefined) return " ".repeat(width);
  const { low, high } = (reading && scaleOf(reading)) ?? ownScale(trend.values);
  const text = trend.values.map((value) => {
    if (value === null) return " ";
    const step = Math.round(((value - low) / (high - low)) * (steps.length - 1));
    return steps[Math.max(0, Math.min(steps.length - 1, step))] ?? " ";
  });
  return text.slice(-width).join("").padStart(width);
}

function ownScale(values: TrendView["values"]): { readonly low: number; readonly high: number } {
  const known = values.filter((value) => value !== null);
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const spare = Math.max(0, leastReachKPa - (most - least)) / 2;
  return { low: least - spare, high: most + spare };
}
