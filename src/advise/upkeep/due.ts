import type { Fouling } from "../../detect/fouling-forecast.ts";
import { type DueWork, dueWorks, type Upkeep } from "../../detect/service-overdue.ts";
import type { Unit } from "../../fleet/unit.ts";
import { day } from "../../terms/time.ts";

export interface RunTime {
  readonly runMs: number;
  /** Time of which nothing is kept: it may have run then. */
  readonly unknownMs: number;
}

/** Why a work is due when it is. */
export type Because = "interval" | "running" | "gas pressure";

/** A work that is to be booked; times in ms. */
export interface Booking {
  readonly work: "inspection" | "cleaning";
  /** The first at which one of the reasons has it due. */
  readonly dueMs: number;
  readonly because: Because;
  /** When it was done last, else the first reading; `recorded` says which. */
  readonly fromMs: number;
  readonly recorded: boolean;
  readonly everyMs: number;
  /** The forecast's interval, where gas pressure tells a date; `latestMs` may be +∞. */
  readonly forecast?: Fouling;
  /** Running since it was done last, against how much makes it due; where the fleet file says how much. */
  readonly running?: RunTime & { readonly limitMs: number; readonly dueMs: number };
}

/** A rate of running rests on at least so long. */
const leastKnownMs = day;

/** What tells when a unit's works are due, beside the fleet file. */
export interface Known {
  readonly upkeep: Upkeep;
  readonly nextInSeason: (timeMs: number) => number;
  readonly fouling: Fouling | null;
}

/** When each work of a unit is due, as `bookings`; none before its first reading. */
export function bookingsOf(
  unit: Pick<Unit, "service">,
  { upkeep, nextInSeason, fouling }: Known,
  runSince: (fromMs: number) => RunTime | null,
  nowMs: number,
): readonly Booking[] {
  // A trend from before the last cleaning says nothing of the line as it is now.
  const stands = fouling !== null && fouling.atMs > (upkeep.doneMs.cleaning ?? Number.NEGATIVE_INFINITY);
  const due = dueWorks(unit, upkeep, nextInSeason);
  return bookings(unit, due, stands ? fouling : null, runSince, nowMs);
}

/**
 * When each work is due: by its interval, by running since it was done last (at the rate of running since then), and a cleaning by
 * the trend of gas pressure. `runSince`: the running from a time to `nowMs`; null where that is not known.
 */
export function bookings(
  { service }: Pick<Unit, "service">,
  due: readonly DueWork[],
  fouling: Fouling | null,
  runSince: (fromMs: number) => RunTime | null,
  nowMs: number,
): readonly Booking[] {
  return due.map(({ work, fromMs, recorded, everyMs, dueMs: intervalMs }): Booking => {
    const limitMs = work === "inspection" ? service.inspectionRunningMs : service.cleaningRunningMs;
    const run = limitMs === undefined ? null : runSince(fromMs);
    const running =
      limitMs !== undefined && run !== null ? byRunning(run, limitMs, fromMs, nowMs) : undefined;
    const foretold = work === "cleaning" && fouling !== null && !Number.isNaN(fouling.dueMs);
    const forecast = foretold ? fouling : undefined;
    const reasons: readonly (readonly [Because, number])[] = [
      ["gas pressure", forecast?.dueMs ?? Number.POSITIVE_INFINITY],
      ["running", running?.dueMs ?? Number.POSITIVE_INFINITY],
      ["interval", intervalMs],
    ];
    const [because, dueMs] = reasons.reduce((a, b) => (b[1] < a[1] ? b : a));
    return {
      work,
      dueMs,
      because,
      fromMs,
      recorded,
      everyMs,
      ...(forecast && { forecast }),
      ...(running && { running }),
    };
  });
}

function byRunning(
  run: RunTime,
  limitMs: number,
  fromMs: number,
  nowMs: number,
): NonNullable<Booking["running"]> {
  const knownMs = nowMs - fromMs - run.unknownMs;
  const rate = knownMs < leastKnownMs ? 0 : run.runMs / knownMs;
  const leftMs = limitMs - run.runMs;
  const dueMs = leftMs <= 0 ? nowMs : rate > 0 ? nowMs + leftMs / rate : Number.POSITIVE_INFINITY;
  return { ...run, limitMs, dueMs };
}
