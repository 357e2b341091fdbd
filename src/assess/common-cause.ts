import type { AlarmName } from "../terms/alarms.ts";
import { hour, minute } from "../terms/time.ts";

/** What units of a site may share: an alarm, or that their logs cannot be read. */
export type SharedName = AlarmName | "cannot-be-read";

/** An alarm that is active at a unit of a site. */
export interface ActiveAt {
  readonly unit: string;
  readonly site: string;
  readonly alarm: SharedName;
  /** When its condition began, ms. */
  readonly sinceMs: number;
  /** It may have begun so much later, or been seen so much later, ms: the unit's sample interval. */
  readonly everyMs: number;
}

/** The same alarm at several units of a site that began together. */
export interface CommonCause {
  readonly site: string;
  readonly alarm: SharedName;
  /** In the order in which it began at them. */
  readonly units: readonly string[];
  /** When it began at the first and at the last of them, ms. */
  readonly fromMs: number;
  readonly toMs: number;
  /** What units of a site share that brings it. */
  readonly likely: string;
}

/** What units of a site share (common practice), and within which time it shows at all of them (house choice). */
export const sharedCauses: Readonly<
  Partial<Record<SharedName, { readonly likely: string; readonly withinMs: number }>>
> = {
  "readings-stale": { likely: "power or the line", withinMs: 5 * minute },
  "cannot-be-read": {
    likely: "what brings their logs here: the line, a share, a folder",
    withinMs: 5 * minute,
  },
  "clock-fault": { likely: "what sets their loggers' clocks", withinMs: 5 * minute },
  "not-running": { likely: "power", withinMs: 5 * minute },
  overcurrent: { likely: "the voltage", withinMs: 15 * minute },
  "gas-supply-low": { likely: "a gas supply that they share", withinMs: 15 * minute },
  "gas-backflow-risk": { likely: "a gas supply that they share", withinMs: 15 * minute },
  "lost-prime": { likely: "the water's level", withinMs: 30 * minute },
  "failed-to-prime": { likely: "the water's level", withinMs: 30 * minute },
  "freeze-risk": { likely: "a frost", withinMs: 3 * hour },
};

/** So many units are no chance; two are where a site has no more (house choice). */
const leastUnits = 3;

/**
 * Finds what likely has one cause over a site: the same alarm at three of its units, or at all of two, that began
 * together. `unitsAt` counts the units of each site. An alarm belongs to one group at most; none is taken away.
 */
export function commonCauses(
  active: readonly ActiveAt[],
  unitsAt: ReadonlyMap<string, number>,
): readonly CommonCause[] {
  const bySiteAndAlarm = Map.groupBy(active, ({ site, alarm }) => `${alarm} ${site}`);
  return [...bySiteAndAlarm.values()].flatMap((same) => {
    const [first] = same;
    const known = first && sharedCauses[first.alarm];
    if (known === undefined) return [];
    const { site, alarm } = first;
    const least = Math.min(leastUnits, Math.max(2, unitsAt.get(site) ?? 0));
    return together(same, known.withinMs, least).map((group) => ({
      site,
      alarm,
      units: group.map(({ unit }) => unit),
      fromMs: Math.min(...group.map(({ sinceMs }) => sinceMs)),
      toMs: Math.max(...group.map(({ sinceMs }) => sinceMs)),
      likely: known.likely,
    }));
  });
}

/** Groups of `least` at least that began within `withinMs`, the largest first. */
function together(
  active: readonly ActiveAt[],
  withinMs: number,
  least: number,
): readonly (readonly ActiveAt[])[] {
  const groups: (readonly ActiveAt[])[] = [];
  let left = active.toSorted((a, b) => a.sinceMs - b.sinceMs);
  while (left.length >= least) {
    const { from, to } = longestRun(left, withinMs);
    if (to - from < least) break;
    groups.push(left.slice(from, to));
    left = left.toSpliced(from, to - from);
  }
  return groups;
}

/** The most that began within `withinMs` of one of them, as places in the order in which they began. */
function longestRun(sorted: readonly ActiveAt[], withinMs: number): { from: number; to: number } {
  let longest = { from: 0, to: 0 };
  let from = 0;
  for (const [at, { sinceMs, everyMs }] of sorted.entries()) {
    if (sorted[from].sinceMs < sinceMs) from = at;
    const to = firstAfter(sorted, sinceMs + everyMs + withinMs, at);
    if (to - from > longest.to - longest.from) longest = { from, to };
  }
  return longest;
}

/** The first place from `low` on of what began after a time; a whole fleet may be silent, and is looked at each second. */
function firstAfter(sorted: readonly ActiveAt[], timeMs: number, low: number): number {
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle].sinceMs <= timeMs) low = middle + 1;
    else high = middle;
  }
  return low;
}
