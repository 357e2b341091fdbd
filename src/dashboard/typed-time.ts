import { Temporal } from "temporal-polyfill";
import { parseInstant } from "../fleet/instant.ts";

/** How a time may be typed: for the prompt and for what is not one. */
export const typedTimeForms = "14:30, or 2026-05-04 14:30";

const clockOnly = /^([01]?\d|2[0-3]):([0-5]\d)(?::([0-5]\d))?$/;
const dated = /^(\d{4}-\d{2}-\d{2})[ T](\d{1,2}:\d{2}(?::\d{2})?)$/;

/**
 * A time as a person types it, ms: `14:30` on the local day of `nowMs`, `2026-05-04 14:30` in the zone, or
 * RFC 3339 with its offset; undefined where it is none of them. The repeated hour means its first pass.
 */
export function typedTime(text: string, nowMs: number, timezone: string): number | undefined {
  return readTyped(text, nowMs, timezone)?.timeMs;
}

/** As `typedTime`, with whether the clocks show that time once; without `nowMs` a time of the day alone is none. */
export function readTyped(
  text: string,
  nowMs: number | undefined,
  timezone: string,
): { readonly timeMs: number; readonly isOnce: boolean } | undefined {
  const typed = text.trim();
  const instant = parseInstant(typed);
  if (instant !== undefined) return { timeMs: instant, isOnce: true };
  const [, date, time = typed] = dated.exec(typed) ?? [];
  const clock = clockOnly.exec(time);
  if (clock === null || (date === undefined && nowMs === undefined)) return undefined;
  const [hour, minute, second = 0] = clock.slice(1).map((part) => (part === undefined ? 0 : Number(part)));
  try {
    const day =
      date === undefined
        ? Temporal.Instant.fromEpochMilliseconds(nowMs ?? 0)
            .toZonedDateTimeISO(timezone)
            .toPlainDate()
        : Temporal.PlainDate.from(date);
    const wall = day.toPlainDateTime({ hour, minute, second });
    const at = (disambiguation: "compatible" | "earlier" | "later"): number =>
      wall.toZonedDateTime(timezone, { disambiguation }).epochMilliseconds;
    return { timeMs: at("compatible"), isOnce: at("earlier") === at("later") };
  } catch {
    return undefined;
  }
}
