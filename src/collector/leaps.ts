import { iso, minute, second, span } from "../terms/time.ts";

/** So much is a leap of the clock and not its daily correction (house choice). */
const leastMs = 30 * second;

/** A leap is said for so long. */
const saidForMs = 15 * minute;

/** Watches whether this computer's clock leaps, or stood while the computer slept, by one that does neither. */
export interface LeapWatch {
  /** By how much the clock has leapt since the last look, ms; below 0 where it was put back, 0 where it was not. */
  look(nowMs: number): number;
  /** The clock as it would be had it never been put back, ms. */
  neverBackMs(nowMs: number): number;
  /** The last leap, for people, for a while. */
  notice(): string | undefined;
}

/**
 * `evenMs` goes on evenly whatever becomes of the clock, and as fast. `leastNowMs` is known to be over: where the clock
 * at the start, `startMs`, is behind it, it has been put back before.
 */
export function startLeapWatch(startMs: number, evenMs: () => number, leastNowMs: number): LeapWatch {
  let seen = { nowMs: startMs, atMs: evenMs() };
  let reached = { nowMs: Math.max(startMs, leastNowMs), atMs: seen.atMs };
  let last: { readonly line: string; readonly atMs: number } | undefined;
  return {
    look: (nowMs) => {
      const atMs = evenMs();
      const leaptMs = nowMs - seen.nowMs - (atMs - seen.atMs);
      seen = { nowMs, atMs };
      if (Math.abs(leaptMs) < leastMs) return 0;
      last = { line: leapWords(leaptMs, nowMs), atMs };
      return leaptMs;
    },
    neverBackMs: (nowMs) => {
      const atMs = evenMs();
      reached = { nowMs: Math.max(nowMs, reached.nowMs + atMs - reached.atMs), atMs };
      return reached.nowMs;
    },
    notice: () => (last && evenMs() < last.atMs + saidForMs ? last.line : undefined),
  };
}

function leapWords(leaptMs: number, nowMs: number): string {
  const by = span(Math.round(Math.abs(leaptMs) / second) * second);
  return leaptMs > 0
    ? `the clock of this computer leapt forward by ${by} to ${iso(nowMs)}, or the computer slept; set the clock if that is wrong`
    : `the clock of this computer was put back by ${by} to ${iso(nowMs)}; until that time has come again a silence is told late; set the clock if that is wrong`;
}
