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

/** Words as the history tells them, by time; a shelving that nobody ended ends by its time, once that has come. */
export function hearing(words: readonly StoredWord[], nowMs: number): Heard[] {
  const heard = words.map(
    ({ atMs, action, by, note, untilMs, unit, alarm, row }): Heard => ({
      timeMs: atMs,
      unit,
      alarm,
      event: eventOf[action],
      by,
      ...(note !== undefined && { note }),
      ...(untilMs !== undefined && { untilMs }),
      row,
    }),
  );
  const ends = words.flatMap(({ action, untilMs, unit, alarm, row, atMs }): Heard[] => {
    if (action !== "shelve" || untilMs === undefined || untilMs > nowMs) return [];
    const ended = words.some(
      (other) =>
        other.unit === unit &&
        (other.alarm === alarm || other.alarm === "all") &&
        (other.action === "unshelve" || other.action === "shelve") &&
        other.row > row &&
        other.atMs >= atMs &&
        other.atMs < untilMs,
    );
    return ended ? [] : [{ timeMs: untilMs, unit, alarm, event: "unshelved", row }];
  });
  return [...heard, ...ends].sort((a, b) => a.timeMs - b.timeMs || a.row - b.row);
}
