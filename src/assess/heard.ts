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

/**
 * Words as the history tells them, by time; a shelving that nobody ended ends by its time, once that has come. An
 * acknowledgement of what somebody had acknowledged says who.
 */
export function hearing(
  words: readonly StoredWord[],
  nowMs: number,
  renewed: Renewed = () => false,
): Heard[] {
  const heard = words.map((word): Heard => {
    const { atMs, action, by, note, untilMs, unit, alarm, row } = word;
    const first = firstTo(word, words, renewed);
    return {
      timeMs: atMs,
      unit,
      alarm,
      event: eventOf[action],
      by,
      ...(note !== undefined && { note }),
      ...(untilMs !== undefined && { untilMs }),
      ...(first && { already: { by: first.by, timeMs: first.atMs } }),
      row,
    };
  });
  const ends = words.flatMap((word): Heard[] => {
    const { action, untilMs, unit, alarm, row } = word;
    if (action !== "shelve" || untilMs === undefined || untilMs > nowMs) return [];
    const later = words.filter((other) => changesShelving(other, word, untilMs));
    if (later.some((other) => other.alarm === alarm || other.alarm === "all")) return [];
    const except = [...new Set(later.map((other) => other.alarm as AlarmName))].sort();
    return [{ timeMs: untilMs, unit, alarm, event: "unshelved", ...(except.length > 0 && { except }), row }];
  });
  return [...heard, ...ends].sort((a, b) => a.timeMs - b.timeMs || a.row - b.row);
}

/** The word that had acknowledged the same raising before. */
function firstTo(word: StoredWord, words: readonly StoredWord[], renewed: Renewed): StoredWord | undefined {
  const { action, unit, alarm, raisedMs, row, atMs } = word;
  if (action !== "acknowledge" || raisedMs === undefined) return undefined;
  const first = words.find(
    (other) =>
      other.action === action && other.unit === unit && other.alarm === alarm && other.raisedMs === raisedMs,
  );
  if (first === undefined || first.row >= row || renewed(unit, alarm, first.atMs, atMs)) return undefined;
  return first;
}

/** Whether a word, said while a shelving lasts, changes that or a part of it. */
function changesShelving(other: StoredWord, shelving: StoredWord, untilMs: number): boolean {
  return (
    other.unit === shelving.unit &&
    (other.alarm === shelving.alarm || other.alarm === "all" || shelving.alarm === "all") &&
    (other.action === "unshelve" || other.action === "shelve") &&
    other.row > shelving.row &&
    other.atMs >= shelving.atMs &&
    other.atMs < untilMs
  );
}
