import { minute } from "../terms/time.ts";

export interface Flood {
  readonly fromMs: number;
  readonly toMs: number;
  readonly alarms: number;
}

export const periodMs = 10 * minute;
const floodBegins = 10;
const floodEnds = 5;

/** Alarms in each period of `lengthMs` of a window, the last of them cut where the window ends. */
export function periodCounts(
  timesMs: readonly number[],
  fromMs: number,
  toMs: number,
  lengthMs: number,
): number[] {
  const counts = new Array<number>(Math.max(1, Math.ceil((toMs - fromMs) / lengthMs))).fill(0);
  for (const timeMs of timesMs) counts[Math.floor((timeMs - fromMs) / lengthMs)]++;
  return counts;
}

/** A flood begins with a ten-minute period of more than ten alarms and ends before the first with fewer than five. */
export function floodsIn(periods: readonly number[], fromMs: number, toMs: number): readonly Flood[] {
  const floods: { fromMs: number; toMs: number; alarms: number }[] = [];
  let open: (typeof floods)[number] | null = null;
  for (const [place, count] of periods.entries()) {
    const startMs = fromMs + place * periodMs;
    if (open !== null && count < floodEnds) open = null;
    if (open === null && count > floodBegins) {
      open = { fromMs: startMs, toMs: startMs, alarms: 0 };
      floods.push(open);
    }
    if (open === null) continue;
    open.toMs = Math.min(toMs, startMs + periodMs);
    open.alarms += count;
  }
  return floods;
}
