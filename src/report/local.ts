import { localClock } from "../fleet/local-clock.ts";
import { hour } from "../terms/time.ts";

const months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");

/** How moments are written on a page of a fleet: in its zone. */
export interface LocalTimes {
  /** `4 May 2026 03:12`. */
  moment(timeMs: number): string;
  /** `4 May 2026`. */
  date(timeMs: number): string;
  /** `4 May`. */
  day(timeMs: number): string;
  /** `03:12`. */
  clock(timeMs: number): string;
  /** What the clock on the wall shows, ms as if it stood in UTC. */
  wall(timeMs: number): number;
}

/** Moments in a time zone; with `aboutMs` the year is left out where it is that one's. */
export function localTimes(timezone: string, aboutMs?: number): LocalTimes {
  const wall = localClock(timezone);
  const two = (n: number): string => String(n).padStart(2, "0");
  const at = (timeMs: number): Date => new Date(wall(timeMs));
  const day = (timeMs: number): string => {
    const there = at(timeMs);
    return `${there.getUTCDate()} ${months[there.getUTCMonth()]}`;
  };
  const year = (timeMs: number): number => at(timeMs).getUTCFullYear();
  const known = aboutMs === undefined ? null : year(aboutMs);
  const date = (timeMs: number): string =>
    year(timeMs) === known ? day(timeMs) : `${day(timeMs)} ${year(timeMs)}`;
  const clock = (timeMs: number): string =>
    `${two(at(timeMs).getUTCHours())}:${two(at(timeMs).getUTCMinutes())}`;
  return { day, date, clock, wall, moment: (timeMs) => `${date(timeMs)} ${clock(timeMs)}` };
}

/** Hours with one decimal from ten on fewer: `3.4 h`, `612 h`; a dash where it is not known. */
export function hoursText(ms: number | null): string {
  if (ms === null) return "–";
  const hours = ms / hour;
  return `${hours.toFixed(hours < 100 ? 1 : 0)} h`;
}

/** `99.4 %`; a share that is not whole never reads as 100 %, nor one above nothing as 0 %. A dash where it is not known. */
export function percentText(share: number | null): string {
  if (share === null) return "–";
  if (share === 0 || share === 1) return `${100 * share} %`;
  const percent = Math.min(99.9, Math.max(0.1, Math.round(1000 * share) / 10));
  return `${percent.toFixed(1)} %`;
}
