import { day, hour, minute } from "../terms/time.ts";
import { localClock } from "./local-clock.ts";
import type { RunSchedule, Unit } from "./unit.ts";

/** Time in which a unit may start after its window or season has begun. */
const graceMs = 10 * minute;

type Timed = Pick<Unit, "runs" | "season">;

/** Month × 100 + day of a local wall-clock time; remembers the last day asked for. */
function calendarDay(): (localMs: number) => number {
  let lastDay = Number.NaN;
  let monthDay = 0;
  return (localMs) => {
    const dayNumber = Math.floor(localMs / day);
    if (dayNumber !== lastDay) {
      lastDay = dayNumber;
      const date = new Date(dayNumber * day);
      monthDay = (date.getUTCMonth() + 1) * 100 + date.getUTCDate();
    }
    return monthDay;
  };
}

/** Whether a value lies from `from` to `to` on a circle: where `to` is below `from` it passes the end. */
function inSeason(season: Unit["season"]): (localMs: number) => boolean {
  if (season === undefined) return () => true;
  const { from, to } = season;
  const monthDayOf = calendarDay();
  if (from <= to) return (localMs) => monthDayOf(localMs) >= from && monthDayOf(localMs) <= to;
  return (localMs) => monthDayOf(localMs) >= from || monthDayOf(localMs) <= to;
}

function inWindows(runs: RunSchedule): (localMs: number) => boolean {
  if (runs.kind !== "windows") return () => runs.kind === "always";
  const { windows } = runs;
  return (localMs) => {
    const ofDay = (localMs - Math.floor(localMs / day) * day) / minute;
    for (const { from, to } of windows) {
      if (from < to ? ofDay >= from && ofDay < to : ofDay >= from || ofDay < to) return true;
    }
    return false;
  };
}

/**
 * Whether a unit should run at an instant (ms): 1 it should, 0 it should not, 2 nobody says, or it
 * should since less than ten minutes. Windows and seasons are those of the wall clock in `timezone`:
 * a repeated hour counts twice, a skipped one not at all. Outside its season a unit should not run.
 */
export function wantedRunning(unit: Timed, timezone: string): (timeMs: number) => 0 | 1 | 2 {
  const { runs } = unit;
  if (unit.season === undefined && runs?.kind !== "windows") {
    const always = runs === undefined ? 2 : runs.kind === "always" ? 1 : 0;
    return () => always;
  }
  const now = localClock(timezone);
  const before = localClock(timezone);
  const season = inSeason(unit.season);
  if (runs === undefined) return (timeMs) => (season(now(timeMs)) ? 2 : 0);
  const windows = inWindows(runs);
  const wanted = (localMs: number) => windows(localMs) && season(localMs);
  // Windows, grace and every zone's offset since 1972 are whole minutes: an answer holds for its minute.
  let lastMinute = Number.NaN;
  let answer: 0 | 1 | 2 = 0;
  return (timeMs) => {
    const thisMinute = Math.floor(timeMs / minute);
    if (thisMinute !== lastMinute) {
      lastMinute = thisMinute;
      if (!wanted(now(timeMs))) answer = 0;
      else answer = wanted(before(timeMs - graceMs)) ? 1 : 2;
    }
    return answer;
  };
}

/** A unit asks for the same few instants every second. */
const mostAnswers = 32;

/**
 * The first whole hour, from an instant (ms) on, at which a unit is in season; the instant itself where it
 * is already. A season that never comes gives +∞.
 */
export function nextInSeason(unit: Timed, timezone: string): (timeMs: number) => number {
  const isLaidUp = laidUp(unit, timezone);
  return nextHour((timeMs) => !isLaidUp(timeMs));
}

/** The first whole hour, from an instant (ms) on, at which a unit is out of season; the instant itself, and +∞, as with `nextInSeason`. */
export function nextLaidUp(unit: Timed, timezone: string): (timeMs: number) => number {
  return unit.season === undefined ? () => Number.POSITIVE_INFINITY : nextHour(laidUp(unit, timezone));
}

/** The whole hour from which on a unit has been out of season until an instant (ms), at which it is. */
export function outOfSeasonSince(unit: Timed, timezone: string): (timeMs: number) => number {
  const isLaidUp = laidUp(unit, timezone);
  const backwards = nextHour((hoursBackMs) => !isLaidUp(-hoursBackMs - 1));
  return (timeMs) => -backwards(-Math.ceil(timeMs / hour) * hour);
}

function nextHour(isIt: (timeMs: number) => boolean): (timeMs: number) => number {
  const answers = new Map<number, number>();
  return (timeMs) => {
    if (timeMs === Number.POSITIVE_INFINITY) return timeMs;
    const known = answers.get(timeMs);
    if (known !== undefined) return known;
    let answerMs = timeMs;
    const latestMs = timeMs + 367 * day;
    while (!isIt(answerMs) && answerMs < latestMs) answerMs = (Math.floor(answerMs / hour) + 1) * hour;
    if (answerMs >= latestMs) answerMs = Number.POSITIVE_INFINITY;
    if (answers.size >= mostAnswers) answers.clear();
    answers.set(timeMs, answerMs);
    return answerMs;
  };
}

/** Whether a unit is laid up at an instant (ms): outside its season, by the wall clock in `timezone`. */
export function laidUp(unit: Timed, timezone: string): (timeMs: number) => boolean {
  const local = localClock(timezone);
  const season = inSeason(unit.season);
  return (timeMs) => !season(local(timeMs));
}
