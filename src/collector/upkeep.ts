import { centerOf, runningCurrentA } from "../condition/operating.ts";
import type { Fouling } from "../detect/fouling-forecast.ts";
import type { FoulingTrend } from "../detect/fouling-trend.ts";
import { judgedBy } from "../detect/gas-growth.ts";
import type { UnitState } from "../engine.ts";
import { channelIndex } from "../terms/channels.ts";

/** What a unit's readings say of its upkeep. Plain data. */
export interface UnitUpkeep {
  /** Its first reading, ms. */
  readonly firstMs: number | null;
  readonly fouling: Fouling | null;
  /** Motor current from which it runs, A. */
  readonly runningA: number;
  /** The signal that shows fouling, and its clean value; null before a baseline has one. */
  readonly gas: { readonly signal: number; readonly clean: number } | null;
}

export function upkeepOf({ unit, upkeep, rules, condition }: UnitState): UnitUpkeep {
  const drift = rules.find(({ rule }) => rule.alarm === "gas-pressure-drift");
  const gas = judgedBy(unit, condition.firstBaseline);
  return {
    firstMs: upkeep.firstMs,
    fouling: drift === undefined ? null : (drift.memory as FoulingTrend).fouling,
    runningA: runningCurrentA(unit, centerOf(condition.baseline, channelIndex.motor_current)),
    gas: gas.clean > 0 ? gas : null,
  };
}
