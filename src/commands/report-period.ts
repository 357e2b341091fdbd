import { Temporal } from "temporal-polyfill";
import { parseInstant } from "../fleet/instant.ts";
import type { Interval } from "../report/intervals.ts";
import { visible } from "../terms/text.ts";
import { CannotWork } from "./context.ts";

const date = /^\d{4}-\d{2}-\d{2}$/;

/** `--from` or `--to`: an RFC 3339 time with its offset, or a day, which begins at midnight in the zone; ms. */
function momentOf(text: string, option: string, timezone: string): number {
  const timeMs = parseInstant(text);
  if (timeMs !== undefined) return timeMs;
  try {
    if (date.test(text)) return Temporal.PlainDate.from(text).toZonedDateTime(timezone).epochMilliseconds;
  } catch {
    // No such day.
  }
  throw new CannotWork(
    `${option} '${visible(text)}' is neither a day nor a time with its offset; write 2026-05-01 or 2026-05-04T03:12:20Z`,
  );
}

/**
 * The period of a report: the calendar month before this one in the zone, unless said. With `from` alone up to now,
 * with `to` alone the month before it. What lies ahead of `nowMs` is cut off. Throws `CannotWork`.
 */
export function reportPeriod(
  { from, to }: { readonly from?: string; readonly to?: string },
  timezone: string,
  nowMs: number,
): Interval {
  const zoned = (timeMs: number) =>
    Temporal.Instant.fromEpochMilliseconds(timeMs).toZonedDateTimeISO(timezone);
  const thisMonth = zoned(nowMs).with({ day: 1 }).startOfDay();
  const monthBefore = (end: Temporal.ZonedDateTime) => end.subtract({ months: 1 }).epochMilliseconds;
  const wantedTo = to === undefined ? undefined : momentOf(to, "--to", timezone);
  const toMs = wantedTo ?? (from === undefined ? thisMonth.epochMilliseconds : nowMs);
  const fromMs = from === undefined ? monthBefore(zoned(toMs)) : momentOf(from, "--from", timezone);
  if (fromMs >= nowMs) throw new CannotWork("the period lies ahead; a report is on a time that has been");
  if (fromMs >= toMs) throw new CannotWork("--from comes before --to");
  return { fromMs, toMs: Math.min(toMs, nowMs) };
}
