import type { Baseline } from "../condition/features.ts";
import type { Unit } from "../fleet/unit.ts";
import { likeClean } from "./fouling-points.ts";
import type { FoulingTrend } from "./fouling-trend.ts";
import { gas } from "./gas.ts";
import { judgedBy } from "./gas-growth.ts";
import { type DriftSettings, hoursOf, limitShare } from "./gas-pressure-drift.ts";

/** What a gas line's fouling is judged by, in the stored unit of its channel. */
export interface GasDrift {
  readonly channel: "gas_pressure" | "gas_flow";
  readonly clean: number;
  readonly limit: number;
  readonly points: readonly { readonly timeMs: number; readonly value: number }[];
  /** Null where no date is told; `latestMs` may be +∞. */
  readonly forecast: {
    readonly atMs: number;
    readonly value: number;
    readonly dueMs: number;
    readonly earliestMs: number;
    readonly latestMs: number;
  } | null;
}

/** The points that `gas-pressure-drift` rests on, made like the clean ones, and what it foresees; null where it has none. */
export function gasDriftSeen(
  unit: Unit,
  firstBaseline: Baseline | null,
  memory: FoulingTrend,
  settings: DriftSettings,
): GasDrift | null {
  const { signal, clean } = judgedBy(unit, firstBaseline);
  if (!(clean > 0) || memory.pointMs.length === 0) return null;
  const direction = signal === gas ? 1 : -1;
  const valueAt = (growth: number): number => clean * (1 + direction * growth);
  const { levels } = likeClean(memory, memory.warmth, hoursOf(firstBaseline));
  const { fouling } = memory;
  const { atMs = Number.NaN, growth = Number.NaN, dueMs = Number.NaN } = fouling ?? {};
  return {
    channel: signal === gas ? "gas_pressure" : "gas_flow",
    clean,
    limit: valueAt(limitShare(unit, clean, settings)),
    points: memory.pointMs.map((timeMs, i) => ({ timeMs, value: valueAt(levels[i]) })),
    forecast:
      fouling === null || Number.isNaN(dueMs) || dueMs <= atMs
        ? null
        : {
            atMs,
            value: valueAt(growth),
            dueMs,
            earliestMs: fouling.earliestMs,
            latestMs: fouling.latestMs,
          },
  };
}
