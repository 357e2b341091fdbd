import { day } from "../terms/time.ts";
import type { Stood } from "./lives.ts";

/** A day of the window, or what is left of one at its beginning. */
export interface StaleDay {
  readonly fromMs: number;
  readonly toMs: number;
  /** Alarms that had stood for more than a day at some time of it. */
  readonly alarms: number;
}

/** Stale alarms on each day of a window, the days counted back from its end; the oldest day first. */
export function staleByDay(stood: readonly Stood[], fromMs: number, toMs: number): StaleDay[] {
  const days = Array.from({ length: Math.ceil((toMs - fromMs) / day) }, () => new Set<string>());
  for (const one of stood) {
    const staleMs = Math.max(fromMs, one.fromMs, one.alarmMs + day);
    const endMs = Math.min(toMs, one.toMs);
    if (staleMs >= endMs) continue;
    const first = Math.ceil((toMs - staleMs) / day) - 1;
    for (let back = Math.floor((toMs - endMs) / day); back <= first; back++) {
      days[back].add(`${one.unit}/${one.alarm}`);
    }
  }
  return days
    .map((alarms, back) => ({
      fromMs: Math.max(fromMs, toMs - (back + 1) * day),
      toMs: toMs - back * day,
      alarms: alarms.size,
    }))
    .reverse();
}
