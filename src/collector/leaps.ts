import { day, iso, minute, second, span } from "../terms/time.ts";

/** So much is a leap of the clock and not its daily correction (house choice). */
const leastMs = 30 * second;

/** A leap is said for so long. */
const saidForMs = 15 * minute;

/** A leap back takes back a leap forward that is no older than this, and is an error of its own else (house choice). */
const takenBackWithinMs = day;

/** Watches whether this computer's clock leaps, or stood while the computer slept, by one that does neither. */
export interface LeapWatch {
  /** By how much the clock has leapt since the last look, ms; below 0 where it was put back, 0 where it was not. */
  look(nowMs: number): number;
  /** The clock as it would be had it never been put back, ms, but for a leap forward that was taken back soon. */
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
  // As of the last look: it may be asked for between a leap and the look that finds it.
  let sure = reached;
  let forward: { readonly from: typeof reached; readonly atMs: number } | undefined;
  const neverBack = (from: typeof reached, nowMs: number, atMs: number): typeof reached => ({
    nowMs: Math.max(nowMs, from.nowMs + atMs - from.atMs),
    atMs,
  });
  let last: { readonly line: string; readonly atMs: number } | undefined;
  return {
    look: (nowMs) => {
      const atMs = evenMs();
      const leaptMs = nowMs - seen.nowMs - (atMs - seen.atMs);
      seen = { nowMs, atMs };
      if (forward && atMs > forward.atMs + takenBackWithinMs) forward = undefined;
      if (leaptMs >= leastMs) forward ??= { from: sure, atMs };
      else if (leaptMs <= -leastMs && forward) {
        reached = forward.from;
        forward = undefined;
      }
      reached = neverBack(reached, nowMs, atMs);
      sure = reached;
      if (Math.abs(leaptMs) < leastMs) return 0;
      last = { line: leapWords(leaptMs, nowMs), atMs };
      return leaptMs;
    },
    neverBackMs: (nowMs) => {
      reached = neverBack(reached, nowMs, evenMs());
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
