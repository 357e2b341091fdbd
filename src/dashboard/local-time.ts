import { localClock } from "../fleet/local-clock.ts";
import { age, day, hour, minute } from "../terms/time.ts";

interface Formats {
  readonly parts: Intl.DateTimeFormat;
  readonly zone: Intl.DateTimeFormat;
}
const byZone = new Map<string, Formats>();

function formatsOf(timezone: string): Formats {
  const known = byZone.get(timezone);
  if (known !== undefined) return known;
  const made = {
    parts: new Intl.DateTimeFormat("en-GB", {
      timeZone: timezone,
      weekday: "short",
      year: "numeric",
      month: "short",
      day: "numeric",
      hour: "2-digit",
      minute: "2-digit",
      second: "2-digit",
      hourCycle: "h23",
    }),
    zone: new Intl.DateTimeFormat("en-US", { timeZone: timezone, timeZoneName: "short" }),
  };
  byZone.set(timezone, made);
  return made;
}

function partsOf(format: Intl.DateTimeFormat, timeMs: number): Record<string, string> {
  return Object.fromEntries(format.formatToParts(timeMs).map((part) => [part.type, part.value]));
}

/** `Mon 4 May 2026 03:12:20 CDT`: a moment in full, in the zone. */
export function fullTime(timeMs: number, timezone: string): string {
  const formats = formatsOf(timezone);
  const p = partsOf(formats.parts, timeMs);
  const zone = partsOf(formats.zone, timeMs).timeZoneName ?? timezone;
  return `${p.weekday} ${p.day} ${p.month} ${p.year} ${p.hour}:${p.minute}:${p.second} ${zone}`;
}

/** `03:12`, or `03:12:20` with seconds. */
export function clockTime(timeMs: number, timezone: string, seconds = false): string {
  const p = partsOf(formatsOf(timezone).parts, timeMs);
  return seconds ? `${p.hour}:${p.minute}:${p.second}` : `${p.hour}:${p.minute}`;
}

/** A moment as said at `nowMs`: the time alone today, with its date on another day. */
export function moment(timeMs: number, nowMs: number, timezone: string): string {
  const { parts } = formatsOf(timezone);
  const then = partsOf(parts, timeMs);
  const now = partsOf(parts, nowMs);
  const clock = `${then.hour}:${then.minute}`;
  if (then.year !== now.year) return `${then.day} ${then.month} ${then.year} ${clock}`;
  if (then.month !== now.month || then.day !== now.day) return `${then.day} ${then.month} ${clock}`;
  return clock;
}

/** `4 May`: the local date. */
export function localDate(timeMs: number, timezone: string): string {
  const p = partsOf(formatsOf(timezone).parts, timeMs);
  return `${p.day} ${p.month}`;
}

/** How long to a date or since: from a day on in days of the calendar there, below that to the hour or the minute. */
export function daysWords(fromMs: number, toMs: number, timezone: string): string {
  const ms = Math.abs(toMs - fromMs);
  const unit = ms >= hour ? hour : minute;
  if (ms < day) return age(Math.floor(ms / unit) * unit);
  const clock = localClock(timezone);
  const dayOf = (timeMs: number): number => Math.floor(clock(timeMs) / day);
  return `${Math.abs(dayOf(toMs) - dayOf(fromMs))} d`;
}
