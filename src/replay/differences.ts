import type { AlarmEvent } from "../terms/events.ts";
import { hour } from "../terms/time.ts";

/** What another replay of the same logs tells otherwise. */
export interface Differences {
  readonly gone: readonly AlarmEvent[];
  readonly come: readonly AlarmEvent[];
  /** The same event at another time, or told otherwise. */
  readonly moved: readonly { readonly before: AlarmEvent; readonly after: AlarmEvent }[];
  /** How many are as they were; their count within the unit does not matter. */
  readonly same: number;
}

/** Events so far apart are two, unless their conditions began at one time. */
const furthestMs = hour;

/**
 * Holds the events of two replays against each other. Those of one unit, alarm and kind belong together where
 * their condition holds since the same time, else the nearest in time first.
 */
export function differencesOf(before: readonly AlarmEvent[], after: readonly AlarmEvent[]): Differences {
  const left = groups(before);
  const gone: AlarmEvent[] = [];
  const come: AlarmEvent[] = [];
  const moved: { before: AlarmEvent; after: AlarmEvent }[] = [];
  let same = 0;
  for (const [key, mine] of groups(after)) {
    const theirs = left.get(key) ?? [];
    left.delete(key);
    for (const pair of paired(theirs, mine)) {
      if (told(pair.before) === told(pair.after)) same++;
      else moved.push(pair);
    }
    gone.push(...theirs);
    come.push(...mine);
  }
  gone.push(...[...left.values()].flat());
  const inTime = (a: AlarmEvent, b: AlarmEvent) => a.timeMs - b.timeMs;
  return {
    gone: gone.sort(inTime),
    come: come.sort(inTime),
    moved: moved.sort((a, b) => inTime(a.after, b.after)),
    same,
  };
}

function groups(events: readonly AlarmEvent[]): Map<string, AlarmEvent[]> {
  return Map.groupBy(events, ({ unit, alarm, event }) => `${unit} ${alarm} ${event}`);
}

/** Everything an event says but its place among its unit's events. */
function told(event: AlarmEvent): string {
  return JSON.stringify({ ...event, seq: 0 });
}

/** Takes out of both lists what belongs together. */
function paired(before: AlarmEvent[], after: AlarmEvent[]): { before: AlarmEvent; after: AlarmEvent }[] {
  const pairs: { before: AlarmEvent; after: AlarmEvent }[] = [];
  const take = (one: AlarmEvent, other: AlarmEvent): void => {
    pairs.push({ before: one, after: other });
    before.splice(before.indexOf(one), 1);
    after.splice(after.indexOf(other), 1);
  };
  const bySince = Map.groupBy(before, ({ sinceMs }) => sinceMs);
  for (const other of [...after]) {
    const one = bySince.get(other.sinceMs)?.shift();
    if (one !== undefined) take(one, other);
  }
  for (;;) {
    const near = nearest(before, after);
    if (near === undefined) return pairs;
    take(near.before, near.after);
  }
}

/** The two that lie nearest in time; both lists are in order of time, so a neighbour is among the nearest. */
function nearest(
  before: readonly AlarmEvent[],
  after: readonly AlarmEvent[],
): { before: AlarmEvent; after: AlarmEvent } | undefined {
  let found: { before: AlarmEvent; after: AlarmEvent } | undefined;
  let apartMs = furthestMs;
  for (let b = 0, a = 0; b < before.length && a < after.length; ) {
    const byMs = after[a].timeMs - before[b].timeMs;
    if (Math.abs(byMs) < apartMs || (found === undefined && Math.abs(byMs) === apartMs)) {
      apartMs = Math.abs(byMs);
      found = { before: before[b], after: after[a] };
    }
    if (byMs < 0) a++;
    else b++;
  }
  return found;
}
