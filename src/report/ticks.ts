import { day, hour } from "../terms/time.ts";
import type { Interval } from "./intervals.ts";
import type { LocalTimes } from "./local.ts";

/** Round numbers, 1, 2 or 5 times a power of ten apart, that enclose `low` to `high`: some `wanted` of them. */
export function roundNumbers(low: number, high: number, wanted = 4): number[] {
  const span = high > low ? high - low : Math.max(1, Math.abs(high) / 10);
  const ten = 10 ** Math.floor(Math.log10(span / wanted));
  const step = [1, 2, 5, 10].map((n) => n * ten).find((one) => span / one <= wanted) ?? 10 * ten;
  const first = Math.floor(low / step);
  const last = Math.max(first + 1, Math.ceil(high / step));
  // From whole numbers, so that no error of rounding adds up.
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

const apart = [
  hour,
  3 * hour,
  6 * hour,
  12 * hour,
  day,
  2 * day,
  7 * day,
  14 * day,
  30 * day,
  60 * day,
  120 * day,
];
const mostTimes = 8;

/** Moments of a period at whole hours or midnights of the wall clock, each with what to write there. */
export function roundTimes(
  { fromMs, toMs }: Interval,
  times: LocalTimes,
): { readonly timeMs: number; readonly text: string }[] {
  const step = apart.find((one) => (toMs - fromMs) / one <= mostTimes) ?? (toMs - fromMs) / mostTimes;
  const found: { timeMs: number; text: string }[] = [];
  const first = Math.ceil(times.wall(fromMs) / Math.min(step, day)) * Math.min(step, day);
  for (let wallMs = first; ; wallMs += step) {
    // The offset there; near a change of the clock the second try has it.
    let timeMs = wallMs - (times.wall(fromMs) - fromMs);
    timeMs = wallMs - (times.wall(timeMs) - timeMs);
    if (timeMs > toMs) return found;
    if (timeMs < fromMs) continue;
    const isMidnight = wallMs % day === 0;
    found.push({ timeMs, text: step < day && !isMidnight ? times.clock(timeMs) : times.day(timeMs) });
  }
}
