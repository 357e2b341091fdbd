import type { AlarmName } from "../terms/alarms.ts";
import type { EventKind } from "../terms/events.ts";
import type { StoredWord, WordAction } from "../terms/words.ts";

/** A person's word as it stands in the history; without `by` a shelving that came to its end. */
export interface Heard {
  readonly timeMs: number;
  readonly unit: string;
  readonly alarm: StoredWord["alarm"];
  readonly event: EventKind;
  readonly by?: string;
  readonly note?: string;
  readonly untilMs?: number;
  /** Who had acknowledged the same raising before, and when: this word changed nothing. */
  readonly already?: { readonly by: string; readonly timeMs: number };
  /** Of the end of a shelving of all: alarms of which something else was said meanwhile. */
  readonly except?: readonly AlarmName[];
  readonly row: number;
}

const eventOf: Readonly<Record<WordAction, EventKind>> = {
  acknowledge: "acknowledged",
  shelve: "shelved",
  unshelve: "unshelved",
  "out-of-service": "out-of-service",
  "return-to-service": "returned-to-service",
  note: "noted",
};

/** Whether a unit's alarm returned or became more urgent between two times: an acknowledgement after that is one anew. */
export type Renewed = (unit: string, alarm: StoredWord["alarm"], fromMs: number, toMs: number) => boolean;

/** Whether what was said of a unit at a time is asked for. */
export type Wanted = (unit: string, timeMs: number) => boolean;

/**
 * Words, stored in this order, as the history tells them, by time; a shelving that nobody ended ends by its time, once that has come. An
 * acknowledgement of what somebody had acknowledged says who.
 */
export function hearing(
  words: readonly StoredWord[],
  nowMs: number,
  renewed: Renewed = () => false,
  isWanted: Wanted = () => true,
): Heard[] {
  const firsts = new Map<string, StoredWord>();
  const shelvings = Map.groupBy(words.filter(isOfShelving), ({ unit }) => unit);
  const heard = words.flatMap((word): Heard[] => {
    const { atMs, action, by, note, untilMs, unit, alarm, row } = word;
    const first = firstTo(word, firsts);
    if (!isWanted(unit, atMs)) return [];
    const had = first !== undefined && !renewed(unit, alarm, first.atMs, atMs);
    return [
      {
        timeMs: atMs,
        unit,
        alarm,
        event: eventOf[action],
        by,
        ...(note !== undefined && { note }),
        ...(untilMs !== undefined && { untilMs }),
        ...(had && { already: { by: first.by, timeMs: first.atMs } }),
        row,
      },
    ];
  });
  const ends = words.flatMap((word): Heard[] => {
    const { action, untilMs, unit, alarm, row } = word;
    if (action !== "shelve" || untilMs === undefined || untilMs > nowMs) return [];
    if (!isWanted(unit, untilMs)) return [];
    const later = (shelvings.get(unit) ?? []).filter((other) => changesShelving(other, word, untilMs));
    if (later.some((other) => other.alarm === alarm || other.alarm === "all")) return [];
    const except = [...new Set(later.map((other) => other.alarm as AlarmName))].sort();
    return [{ timeMs: untilMs, unit, alarm, event: "unshelved", ...(except.length > 0 && { except }), row }];
  });
  return [...heard, ...ends].sort((a, b) => a.timeMs - b.timeMs || a.row - b.row);
}

/** The word that had acknowledged the same raising before, by what `firsts` has of the words before. */
function firstTo(word: StoredWord, firsts: Map<string, StoredWord>): StoredWord | undefined {
  const { action, unit, alarm, raisedMs } = word;
  if (action !== "acknowledge" || raisedMs === undefined) return undefined;
  const raising = `${raisedMs} ${alarm} ${unit}`;
  const first = firsts.get(raising);
  if (first === undefined) firsts.set(raising, word);
  return first;
}

function isOfShelving({ action }: StoredWord): boolean {
  return action === "shelve" || action === "unshelve";
}

/** Whether a word on shelving, said of the unit while a shelving lasts, changes that or a part of it. */
function changesShelving(other: StoredWord, shelving: StoredWord, untilMs: number): boolean {
  return (
    (other.alarm === shelving.alarm || other.alarm === "all" || shelving.alarm === "all") &&
    other.row > shelving.row &&
    other.atMs >= shelving.atMs &&
    other.atMs < untilMs
  );
}
