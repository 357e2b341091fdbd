import { median } from "simple-statistics";
import { hour } from "../../terms/time.ts";

/** A unit's motor current summed up over hours, A; NaN in an hour without readings. */
export interface HourlyCurrent {
  readonly min: ArrayLike<number>;
  readonly mean: ArrayLike<number>;
  readonly max: ArrayLike<number>;
}

export interface RunTime {
  readonly runMs: number;
  /** Hours of which nothing is kept: it may have run in them. */
  readonly unknownMs: number;
}

/**
 * How long a motor ran by its hourly current; it runs from `runningA` up. An hour in which it ran for a part counts by its mean
 * current over that of the hours in which it ran throughout, or over the hour's own most where there is none.
 */
export function runTime({ min, mean, max }: HourlyCurrent, runningA: number): RunTime {
  const through = Array.from(mean).filter((_, i) => min[i] >= runningA);
  const usualA = through.length > 0 ? median(through) : Number.NaN;
  let hours = 0;
  let unknown = 0;
  for (let i = 0; i < mean.length; i++) {
    if (Number.isNaN(mean[i])) unknown++;
    else if (min[i] >= runningA) hours++;
    else if (max[i] >= runningA) hours += Math.min(1, mean[i] / (Number.isNaN(usualA) ? max[i] : usualA));
  }
  return { runMs: hours * hour, unknownMs: unknown * hour };
}
