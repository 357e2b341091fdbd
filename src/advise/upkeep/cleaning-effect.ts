import { median } from "simple-statistics";
import { leftByCleaning } from "../../detect/fouling-trend.ts";
import { hour } from "../../terms/time.ts";

/** A unit's hours, oldest first, the first beginning at `fromMs`: its motor's least current and its mean gas signal. NaN where nothing was read. */
export interface GasHours {
  readonly fromMs: number;
  readonly leastA: ArrayLike<number>;
  readonly gas: ArrayLike<number>;
}

/** What shows fouling: how much gas pressure rises, or how much the flow of a regulated feed falls. */
export interface CleanGas {
  readonly clean: number;
  readonly rises: boolean;
}

/** Gas over the running hours before and after a cleaning, in the unit of its channel. */
export interface CleaningEffect {
  readonly before: number;
  readonly after: number;
  readonly clean: number;
  readonly verdict: "worked" | "did not work" | "nothing to tell";
}

/** Like is held against like: a round of the day before, and one after. */
const mostHours = 24;
/** Fewer hours of running may be one hour's weather. */
const fewestHours = 6;
/** Gas from before this time says nothing of the line as it was cleaned. */
const lookBackMs = 7 * 24 * hour;

/**
 * Whether a cleaning from `beginMs` to `endMs` brought the gas back, from running hours before and after it: by the measure of
 * `gas-pressure-drift`, without its making up for warmth. Null while there is too little running to tell.
 */
export function cleaningEffect(
  { fromMs, leastA, gas }: GasHours,
  runningA: number,
  { clean, rises }: CleanGas,
  beginMs: number,
  endMs: number,
): CleaningEffect | null {
  const values = (from: number, to: number): number[] =>
    Array.from(gas).filter((value, i) => {
      const atMs = fromMs + i * hour;
      return atMs >= from && atMs + hour <= to && leastA[i] >= runningA && !Number.isNaN(value);
    });
  const before = values(beginMs - lookBackMs, beginMs).slice(-mostHours);
  const after = values(endMs, Number.POSITIVE_INFINITY).slice(0, mostHours);
  if (before.length < fewestHours || after.length < fewestHours || !(clean > 0)) return null;
  const growth = (value: number): number => (rises ? value / clean - 1 : 1 - value / clean);
  const [was, is] = [median(before), median(after)];
  const left = leftByCleaning(growth(was));
  const verdict = left === null ? "nothing to tell" : growth(is) < left ? "worked" : "did not work";
  return { before: was, after: is, clean, verdict };
}
