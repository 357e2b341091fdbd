import { type Booking, bookingsOf } from "../advise/upkeep/due.ts";
import type { Fouling } from "../detect/fouling-forecast.ts";
import type { UnitState } from "../engine.ts";
import { upkeepOf } from "./upkeep.ts";

/** What is due at a unit and when, ms. */
export interface UpkeepView {
  readonly works: readonly {
    readonly work: "inspection" | "cleaning";
    readonly everyMs: number;
    /** The first at which its interval or its fouling has it due. */
    readonly dueMs: number;
    readonly because: Booking["because"];
    /** When it was last done; null where that is not on record: it is counted from the first reading. */
    readonly lastMs: number | null;
  }[];
  /**
   * When the gas line's fouling reaches its limit, with the interval; `latestMs` may be +∞. Where it has reached it without a
   * trend, `growthPerDay` is NaN.
   */
  readonly drift?: Pick<Fouling, "growth" | "growthPerDay" | "dueMs" | "earliestMs" | "latestMs">;
}

/**
 * What is due at a unit at `nowMs`, by its intervals and by its fouling; undefined before its first reading. Hours of running
 * are left out: they rest on the kept summaries, which a view does not wait for.
 */
export function upkeepView(state: UnitState, nowMs: number): UpkeepView | undefined {
  const { unit, upkeep, nextInSeason } = state;
  const { fouling } = upkeepOf(state);
  const booked = bookingsOf(unit, { upkeep, nextInSeason, fouling }, () => null, nowMs);
  if (booked.length === 0) return undefined;
  const drift = booked.find(({ forecast }) => forecast !== undefined)?.forecast;
  return {
    works: booked.map(({ work, everyMs, dueMs, because, fromMs, recorded }) => ({
      work,
      everyMs,
      dueMs,
      because,
      lastMs: recorded ? fromMs : null,
    })),
    ...(drift && { drift }),
  };
}
