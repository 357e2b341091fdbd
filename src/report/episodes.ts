import { type AlarmName, comparePriority, type Priority } from "../terms/alarms.ts";
import type { EventKind } from "../terms/events.ts";

/** An event as far as its alarm's episodes need it. */
export interface EpisodeEvent {
  readonly timeMs: number;
  readonly sinceMs: number;
  readonly unit: string;
  /** Its place among the unit's. */
  readonly seq: number;
  readonly alarm: AlarmName;
  readonly event: EventKind;
  readonly priority: Priority;
  readonly message: string;
}

/** One stretch in which an alarm's condition held, whether or not people were told. */
export interface Episode {
  readonly unit: string;
  readonly alarm: AlarmName;
  /** From when the condition held. */
  readonly sinceMs: number;
  /** When it was raised; null where it was suppressed throughout. */
  raisedMs: number | null;
  /** First reading back to normal; null while it holds. */
  endMs: number | null;
  /** It stood, and what it rests on in the fleet file changed: no reading has said that it is over. */
  endedBySettings?: true;
  /** Its most urgent. */
  priority: Priority;
  readonly message: string;
  /** Place of the newest event that it rests on. */
  seq: number;
}

/** Episodes in the order in which they began, as events are taken in. */
export interface Episodes {
  readonly all: Episode[];
  readonly open: Map<string, Episode>;
}

export function startEpisodes(): Episodes {
  return { all: [], open: new Map() };
}

/** Takes in an event. Events come in order of time. */
export function takeEvent({ all, open }: Episodes, told: EpisodeEvent): void {
  const { unit, seq, alarm, event, timeMs, sinceMs, priority, message } = told;
  const key = `${unit}/${alarm}`;
  const there = open.get(key);
  if (there !== undefined) there.seq = seq;
  switch (event) {
    case "raised":
    case "suppressed":
    case "unsuppressed": {
      const raisedMs = event === "suppressed" ? null : timeMs;
      if (there === undefined) {
        const begun = { unit, alarm, sinceMs, raisedMs, endMs: null, priority, message, seq };
        open.set(key, begun);
        all.push(begun);
        return;
      }
      there.raisedMs ??= raisedMs;
      there.priority = moreUrgent(there.priority, priority);
      return;
    }
    case "priority-changed":
      if (there !== undefined) there.priority = moreUrgent(there.priority, priority);
      return;
    case "cleared":
    case "settings-changed":
      if (there === undefined) return;
      if (event === "settings-changed") there.endedBySettings = true;
      there.endMs = Math.max(there.sinceMs, event === "cleared" ? sinceMs : timeMs);
      open.delete(key);
  }
}

function moreUrgent(a: Priority, b: Priority): Priority {
  return comparePriority(a, b) <= 0 ? a : b;
}
