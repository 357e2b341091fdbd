import { ranIn } from "../condition/ran-in.ts";
import type { RunningView } from "./fleet-view.ts";
import { type Level, overSlots } from "./past-levels.ts";

/** Counts how long a motor ran and how often it started, over spans in order of time. */
export interface RunCount {
  take(fromMs: number, toMs: number, leastA: number, mostA: number): void;
  view(): RunningView;
}

/**
 * Starts counting within `fromMs…toMs`: above `runningA` the motor runs, and until it falls below `stoppedA`. Spans
 * further apart than `heldMs` are not joined.
 */
export function startRunCount(
  fromMs: number,
  toMs: number,
  { runningA, stoppedA, heldMs }: { runningA: number; stoppedA: number; heldMs: number },
): RunCount {
  let state: "unknown" | "on" | "off" | "was off" | "started" = "unknown";
  let lastMs = Number.NEGATIVE_INFINITY;
  let leastMs = 0;
  let mostMs = 0;
  let knownMs = 0;
  let starts = 0;
  let startsAtLeast = false;
  return {
    take(spanMs, endMs, leastA, mostA) {
      if (Number.isNaN(leastA) || endMs <= fromMs || spanMs >= toMs) return;
      if (spanMs - lastMs > heldMs) state = "unknown";
      lastMs = endMs;
      const length = Math.min(endMs, toMs) - Math.max(spanMs, fromMs);
      knownMs += length;
      const levels = { runningFrom: runningA, stoppedBelow: stoppedA };
      const ran = ranIn(leastA, mostA, levels, state === "on" ? "throughout" : undefined);
      if (ran === "throughout") {
        if (state === "off" || state === "was off") starts++;
        state = "on";
        leastMs += length;
        mostMs += length;
      } else if (ran === "not") {
        state = "off";
      } else {
        startsAtLeast = true;
        mostMs += length;
        if (state === "off") {
          starts++;
          state = "started";
        } else state = "was off";
      }
    },
    view: () => ({ leastMs, mostMs, knownMs, starts, startsAtLeast }),
  };
}

/** Takes each time before `endMs` in from the finest level that knows it, oldest first. */
export function countLevels(
  count: RunCount,
  finestFirst: readonly Level[],
  signal: number,
  endMs: number,
): void {
  for (let place = finestFirst.length - 1; place >= 0; place--) {
    const level = finestFirst[place];
    const low = level.low[signal];
    const high = level.high[signal];
    if (low === undefined || high === undefined) continue;
    overSlots(level, finestFirst.slice(0, place), endMs, (fromMs, toMs, slot) =>
      count.take(fromMs, toMs, low[slot], high[slot]),
    );
  }
}
