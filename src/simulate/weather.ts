import { day, hour } from "../terms/time.ts";

/** Air and water through a day, °C. */
export interface Weather {
  readonly coolestC: number;
  readonly hottestC: number;
  readonly waterC: number;
  /** Offset of local time from UTC, ms. */
  readonly localOffsetMs: number;
  /** How far fronts move the air about its day, as a standard deviation over a day and a half, K. Default 0. */
  readonly frontsK?: number;
}

/** Air temperature, °C: a daily wave, hottest at four in the afternoon, local time. */
export function airC(weather: Weather, timeMs: number): number {
  const middle = (weather.coolestC + weather.hottestC) / 2;
  const half = (weather.hottestC - weather.coolestC) / 2;
  return middle + half * wave((timeMs + weather.localOffsetMs - 10 * hour) / day);
}

/** Water temperature, °C: one degree about its mean, two hours after the air. */
export function waterC(weather: Weather, timeMs: number): number {
  return weather.waterC + wave((timeMs + weather.localOffsetMs - 12 * hour) / day);
}

/** A sine of whole turns by rational numbers alone, within 0.0017. Source: Bhaskara I, Mahabhaskariya. */
function wave(turns: number): number {
  const degrees = 360 * (turns - Math.floor(turns));
  const half = degrees < 180 ? degrees : degrees - 180;
  const product = half * (180 - half);
  const sine = (4 * product) / (40_500 - product);
  return degrees < 180 ? sine : -sine;
}
