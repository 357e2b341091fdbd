import { Temporal } from "temporal-polyfill";

const rfc3339 = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}:\d{2}(?:\.\d+)?(?:Z|[+-](?:[01]\d|2[0-3]):[0-5]\d)$/i;

/** An RFC 3339 time with its offset, in ms since 1970; undefined where it is not one, or no such day exists. */
export function parseInstant(text: string): number | undefined {
  if (!rfc3339.test(text)) return undefined;
  try {
    return Temporal.Instant.from(text).epochMilliseconds;
  } catch {
    return undefined;
  }
}
