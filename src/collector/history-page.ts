import type { Heard } from "../assess/heard.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import type { EventKind } from "../terms/events.ts";
import { matches } from "../terms/text.ts";
import type { Served } from "./served.ts";

/** A line of the alarm history: a change of an alarm, what a person said of it, or a service. */
export interface HistoryEntry extends HistoryKey {
  readonly alarm: AlarmName | "all";
  readonly event: EventKind | Served["event"];
  /** Of a change. */
  readonly priority?: Priority;
  readonly message?: string;
  /** The alarm, or `service`, that suppresses it. */
  readonly cause?: string;
  /** Of a person's word; without `by` a shelving that came to its end. */
  readonly word?: Pick<Heard, "by" | "note" | "untilMs" | "already" | "except">;
  /** Of a service; without `by` of its word one that ended by its time. */
  readonly service?: Pick<Served, "work" | "fromMs" | "saidMs">;
}

/** The place of a line: by time, then unit; words after changes. */
export interface HistoryKey {
  readonly timeMs: number;
  readonly unit: string;
  readonly isWord: boolean;
  /** `seq` of a change, row of a word; below 0 the row of a service. */
  readonly n: number;
}

/** A page of the alarm history, the newest first. */
export interface HistoryWanted {
  /** Both inclusive, ms. */
  readonly sinceMs: number;
  readonly untilMs: number;
  /** Only what comes before this place; null from the newest on. */
  readonly before: HistoryKey | null;
  readonly rows: number;
  /** Words that each line must hold. */
  readonly filter: string;
  /** The site of each unit, to be found by. */
  readonly sites: Readonly<Record<string, string>>;
}

export interface HistoryPage {
  readonly entries: readonly HistoryEntry[];
  /** There are more before the last of them. */
  readonly more: boolean;
}

/** Negative where `a` is the newer. */
export function newerFirst(a: HistoryKey, b: HistoryKey): number {
  if (a.timeMs !== b.timeMs) return b.timeMs - a.timeMs;
  if (a.unit !== b.unit) return a.unit < b.unit ? 1 : -1;
  return Number(b.isWord) - Number(a.isWord) || b.n - a.n;
}

/** Whether a line is wanted, by its text and its place. */
export function isWanted(
  entry: HistoryEntry,
  { before, filter, sites, sinceMs, untilMs }: HistoryWanted,
): boolean {
  if (entry.timeMs < sinceMs || entry.timeMs > untilMs) return false;
  if (before !== null && newerFirst(entry, before) <= 0) return false;
  if (filter === "") return true;
  const { unit, alarm, event, priority, message, cause, word, service } = entry;
  const words = [unit, sites[unit], alarm, alarm.replaceAll("-", " "), event, priority, message, cause];
  return matches(
    filter,
    [...words, word?.by, word?.note, service?.work].filter((text) => text !== undefined).join(" "),
  );
}

/** The page of lines that are all at hand, in any order. */
export function pageOf(all: readonly HistoryEntry[], wanted: HistoryWanted): HistoryPage {
  const fit = all.filter((entry) => isWanted(entry, wanted)).toSorted(newerFirst);
  return { entries: fit.slice(0, wanted.rows), more: fit.length > wanted.rows };
}
