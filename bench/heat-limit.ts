import { median } from "simple-statistics";

/**
 * When a motor's logged temperature first reached its limit, reckoned from its log alone and not by the rule that is
 * measured: shell limits and the rise over a clean one are common practice, as in docs/alarms.md.
 */
const shellLimitC = 90;
const riseOverCleanK = 15;

/** One reading: time in ms, A, °C; NaN where it is missing. */
export interface HeatReading {
  readonly timeMs: number;
  readonly currentA: number;
  readonly shellC: number;
  readonly airC: number;
}

/** A motor that draws less than this stands, A: the smallest of the fleet draws more than 5. */
const standsA = 1;
/** A motor is warm after more than four of its time constants. */
const warmAfterMs = 2 * 3_600_000;

/** How far the clean, warm motor stood above the air in the readings before `untilMs`, K: the median; NaN where the air is not logged. */
export function cleanRiseK(readings: Iterable<HeatReading>, untilMs: number): number {
  const rises: number[] = [];
  let runsSinceMs = Number.NaN;
  for (const { timeMs, currentA, shellC, airC } of readings) {
    if (timeMs >= untilMs) break;
    if (!(currentA > standsA)) runsSinceMs = Number.NaN;
    else if (Number.isNaN(runsSinceMs)) runsSinceMs = timeMs;
    const rise = shellC - airC;
    if (timeMs - runsSinceMs >= warmAfterMs && !Number.isNaN(rise)) rises.push(rise);
  }
  return rises.length === 0 ? Number.NaN : median(rises);
}

/** The first reading in `fromMs…toMs` of a running motor that is at its limit or past it, ms; undefined: none. */
export function limitReachedMs(
  readings: Iterable<HeatReading>,
  fromMs: number,
  toMs: number,
  cleanK: number,
): number | undefined {
  for (const { timeMs, currentA, shellC, airC } of readings) {
    if (timeMs < fromMs || !(currentA > standsA)) continue;
    if (timeMs >= toMs) return undefined;
    const byRiseC = airC + cleanK + riseOverCleanK;
    const limitC = Number.isNaN(byRiseC) ? shellLimitC : Math.min(byRiseC, shellLimitC);
    if (shellC >= limitC) return timeMs;
  }
  return undefined;
}

/** One heat fault: when it set in, when the limit was reached, if ever, and when alarms of overheating were raised at its unit, ms. */
export interface HeatCase {
  readonly fromMs: number;
  readonly reachedMs: number | undefined;
  readonly raisedMs: readonly number[];
}

export interface Foretold {
  readonly faults: number;
  /** Those that never reached the limit: there was nothing to foretell. */
  readonly neverReached: number;
  readonly reached: number;
  readonly foretold: number;
  /** Middle time from the alarm to the limit, ms; null where none was foretold. */
  readonly leadMedianMs: number | null;
}

/** How many of the faults that reached the limit were told before, in the time of the fault. */
export function foretold(cases: readonly HeatCase[]): Foretold {
  const reached = cases.flatMap(({ reachedMs, ...rest }) =>
    reachedMs === undefined ? [] : [{ ...rest, reachedMs }],
  );
  const leads = reached
    .map(({ fromMs, reachedMs, raisedMs }) => {
      const first = raisedMs.find((timeMs) => timeMs >= fromMs);
      return first === undefined ? Number.NaN : reachedMs - first;
    })
    .filter((leadMs) => leadMs > 0);
  return {
    faults: cases.length,
    neverReached: cases.length - reached.length,
    reached: reached.length,
    foretold: leads.length,
    leadMedianMs: leads.length === 0 ? null : median(leads),
  };
}
