import type { RunningView } from "./fleet-view.ts";
import type { Level } from "./past-levels.ts";

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
      if (leastA >= (state === "on" ? stoppedA : runningA)) {
        if (state === "off" || state === "was off") starts++;
        state = "on";
        leastMs += length;
        mostMs += length;
      } else if (mostA < runningA) {
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
    const untilMs = Math.min(endMs, ...finestFirst.slice(0, place).map(({ sinceMs }) => sinceMs));
    for (let slot = 0; slot < level.slots; slot++) {
      const spanMs = level.fromMs + slot * level.stepMs;
      if (spanMs >= untilMs) break;
      count.take(spanMs, Math.min(spanMs + level.stepMs, untilMs), low[slot], high[slot]);
    }
  }
}
