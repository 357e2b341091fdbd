import { type Fouling, hasDate } from "../detect/fouling-forecast.ts";
import type { FoulingTrend } from "../detect/fouling-trend.ts";
import { dueWorks } from "../detect/service-overdue.ts";
import type { UnitState } from "../engine.ts";

/** What is due at a unit and when, ms. */
export interface UpkeepView {
  readonly works: readonly {
    readonly work: "inspection" | "cleaning";
    readonly everyMs: number;
    readonly dueMs: number;
    /** When it was last done; null where that is not on record: it is counted from the first reading. */
    readonly lastMs: number | null;
  }[];
  /** When the gas line's fouling reaches its limit, with the interval; `latestMs` may be +∞. */
  readonly drift?: Pick<Fouling, "growth" | "growthPerDay" | "dueMs" | "earliestMs" | "latestMs">;
}

/** What is due at a unit by its intervals and by its fouling; undefined before its first reading. */
export function upkeepView({ unit, upkeep, nextInSeason, rules }: UnitState): UpkeepView | undefined {
  const works = dueWorks(unit, upkeep, nextInSeason);
  if (works.length === 0) return undefined;
  const rule = rules.find((one) => one.rule.alarm === "gas-pressure-drift");
  // A rule's memory is its own; this one's type is that of the rule found.
  const fouling = (rule?.memory as FoulingTrend | undefined)?.fouling ?? null;
  return {
    works: works.map(({ work, everyMs, dueMs, fromMs, recorded }) => ({
      work,
      everyMs,
      dueMs,
      lastMs: recorded ? fromMs : null,
    })),
    ...(fouling && hasDate(fouling) && { drift: fouling }),
  };
}
