import { Temporal } from "temporal-polyfill";
import { visible } from "../terms/text.ts";
import { minute } from "../terms/time.ts";
import { CannotWork } from "./context.ts";

/** The day of a route; times are minutes after its midnight. */
export interface RouteDay {
  readonly day: Temporal.PlainDate;
  readonly startMin: number;
  readonly untilMin: number;
  /** It is so far ahead that what is wrong now does not wait for it. */
  readonly isFar: boolean;
}

const usualStartMin = 8 * 60;
/** With less of the day left nobody sets out any more (house choice). */
const leastLeftMin = 120;
/** Over a weekend an alarm may wait; what is wrong now is put right before a later day (house choice). */
const farDays = 3;

/**
 * The day that is asked for, beginning now where its begin is over; without one today, or tomorrow where too little of today is left.
 * Throws `CannotWork` for a day that is over, or of which nothing is left.
 */
export function routeDay(
  options: { readonly on?: string; readonly start?: string; readonly until: string },
  nowMs: number,
  timezone: string,
): RouteDay {
  const askedMin = options.start === undefined ? undefined : clockMin(options.start, "--start");
  const startMin = askedMin ?? usualStartMin;
  const untilMin = clockMin(options.until, "--until");
  if (untilMin <= startMin) throw new CannotWork("--until comes after --start");
  const now = Temporal.Instant.fromEpochMilliseconds(nowMs).toZonedDateTimeISO(timezone);
  const today = now.toPlainDate();
  const nowMin = Math.ceil((nowMs - now.startOfDay().epochMilliseconds) / minute);
  const asked = options.on === undefined ? null : dayOf(options.on);
  const ahead = asked === null ? 0 : today.until(asked, { largestUnit: "day" }).days;
  if (ahead < 0)
    throw new CannotWork(
      `--on ${today.add({ days: ahead }).toString()} is over; write today's date or a later one`,
    );
  const isToday = ahead === 0;
  const beginsMin = isToday ? Math.max(startMin, nowMin) : startMin;
  if (asked === null && beginsMin > startMin && untilMin - beginsMin < leastLeftMin)
    return { day: today.add({ days: 1 }), startMin, untilMin, isFar: false };
  if (beginsMin >= untilMin)
    throw new CannotWork(
      `of that day nothing is left before ${options.until}; write a later --on or --until`,
    );
  return { day: asked ?? today, startMin: beginsMin, untilMin, isFar: ahead > farDays };
}

function clockMin(text: string, option: string): number {
  const [, hours, minutes] = /^(\d{1,2}):(\d{2})$/.exec(text.trim()) ?? [];
  const at = 60 * Number(hours) + Number(minutes);
  if (Number(minutes) < 60 && at <= 24 * 60) return at;
  throw new CannotWork(`${option} '${visible(text)}' is not a time of day; write it like 08:00`);
}

function dayOf(text: string): Temporal.PlainDate {
  try {
    return Temporal.PlainDate.from(text);
  } catch {
    throw new CannotWork(`--on '${visible(text)}' is not a day; write it like 2026-05-04`);
  }
}
