import { Temporal } from "temporal-polyfill";

/** A stretch of time in which a zone's offset from UTC stays the same. */
interface Stretch {
  /** First instant, ms; −∞ before the first known change. */
  readonly fromMs: number;
  /** First instant after it, ms; +∞ after the last known change. */
  readonly toMs: number;
  /** Local time − UTC, ms. */
  readonly offsetMs: number;
}

/** The instants at which a zone's wall clock shows one time: `first` is NaN where it never does. */
interface Instants {
  readonly first: number;
  /** NaN unless the clock shows the time twice. */
  readonly second: number;
}

export type ZoneReader = (wallMs: number) => Instants;

/** No zone's offset is further from UTC than this. */
const widestOffsetMs = 26 * 3_600_000;

function stretchAt(timeMs: number, timezone: string): Stretch {
  const there = Temporal.Instant.fromEpochMilliseconds(Math.floor(timeMs)).toZonedDateTimeISO(timezone);
  // "previous" looks strictly before, and a change at this very instant has been made already.
  const from = there.add({ nanoseconds: 1 }).getTimeZoneTransition("previous");
  const to = there.getTimeZoneTransition("next");
  return {
    fromMs: from?.epochMilliseconds ?? Number.NEGATIVE_INFINITY,
    toMs: to?.epochMilliseconds ?? Number.POSITIVE_INFINITY,
    offsetMs: Math.round(there.offsetNanoseconds / 1e6),
  };
}

function search(wallMs: number, timezone: string): Instants {
  const found: number[] = [];
  let probeMs = wallMs - widestOffsetMs;
  while (probeMs <= wallMs + widestOffsetMs) {
    const stretch = stretchAt(probeMs, timezone);
    const instant = wallMs - stretch.offsetMs;
    if (instant >= stretch.fromMs && instant < stretch.toMs) found.push(instant);
    if (!Number.isFinite(stretch.toMs)) break;
    probeMs = stretch.toMs;
  }
  return { first: found[0] ?? Number.NaN, second: found[1] ?? Number.NaN };
}

/** One for all logs of a zone: it holds nothing but what the zone has answered. */
const readers = new Map<string, ZoneReader>();

/**
 * Reads a zone's wall clock: takes what it shows, in ms as if it stood in UTC, gives the instants in ms.
 * The zone is asked once a stretch of constant offset and near its changes; other calls cost a comparison.
 * Throws a RangeError on an unknown zone.
 */
export function zoneReader(timezone: string): ZoneReader {
  const reader = readers.get(timezone) ?? startReader(timezone);
  readers.set(timezone, reader);
  return reader;
}

function startReader(timezone: string): ZoneReader {
  stretchAt(0, timezone);
  let safeFromMs = Number.POSITIVE_INFINITY;
  let safeToMs = Number.NEGATIVE_INFINITY;
  let offsetMs = 0;
  const nearChange = new Map<number, Instants>();
  return (wallMs) => {
    const guess = wallMs - offsetMs;
    if (guess >= safeFromMs && guess < safeToMs) return { first: guess, second: Number.NaN };
    const known = nearChange.get(wallMs);
    if (known !== undefined) return known;
    const answer = search(wallMs, timezone);
    if (Number.isFinite(answer.first)) {
      const stretch = stretchAt(answer.first, timezone);
      offsetMs = stretch.offsetMs;
      safeFromMs = stretch.fromMs + widestOffsetMs;
      safeToMs = stretch.toMs - widestOffsetMs;
    }
    if (nearChange.size >= 100_000) nearChange.clear();
    nearChange.set(wallMs, answer);
    return answer;
  };
}
