import { setImmediate as others } from "node:timers/promises";
import { countsMs, goOnTo, hearing, type Lives, startLives, type Told, tell } from "../assess/lives.ts";
import { figuresOf, type Performance } from "../assess/performance.ts";
import { type Held, type HeldPriorities, heldAgainst, heldPriorities } from "../assess/standards.ts";
import { readDatabase } from "../store/database.ts";
import { eventsIn } from "../store/events.ts";
import { keptSince } from "../store/kept-since.ts";
import { attemptOn, type Outcome } from "../store/outcome.ts";
import type { Database } from "../store/sqlite.ts";
import { wordsAfter } from "../store/words.ts";
import { day } from "../terms/time.ts";
import type { StoredWord } from "../terms/words.ts";

export type { Acknowledgement, Counting } from "../assess/performance.ts";
export type { Held, Needs, Verdict } from "../assess/standards.ts";

/** A window's figures, held against the standards'. */
export interface PerformanceView extends Performance {
  readonly held: readonly Held[];
  readonly priorities: HeldPriorities;
}

export interface PerformanceWanted {
  /** Beginnings of the windows, ms. */
  readonly fromMs: readonly number[];
  /** Their common end. */
  readonly toMs: number;
  readonly unit?: string;
  /** Asked now and then; true: nobody waits for it any more. */
  readonly isOver?: () => boolean;
}

/** So many events are taken in at one go: a few milliseconds. */
const eventsAtOnce = 500;

/** Logs that are read late bring events of before; those of this time are told anew at each look (house choice). */
const lateMs = day;

/** What was told so long is told anew from the first event, since what no window holds any more is remembered. */
const forgetsAfterMs = day;

/** Lives as of a while ago, from which the next look goes on. */
interface Base {
  lives: Lives;
  readonly unit: string | undefined;
  readonly startedMs: number;
  /** All events before it are told. */
  toldMs: number;
  /** The last event and the last word that were known. */
  eventRow: number;
  wordRow: number;
}

type Figures = Outcome<readonly (PerformanceView | null)[] | undefined>;

/**
 * The figures of each window by a state folder, each window beginning where anything is known; null of one before that.
 * The thread goes on with its other work in between, and no read is held open meanwhile. Undefined where it was called off.
 */
export function readPerformance(folder: string, wanted: PerformanceWanted): Promise<Figures> {
  return performanceReader(folder)(wanted);
}

/** As `readPerformance`, for one look after another: a later one goes on from where the one before was. */
export function performanceReader(folder: string): (wanted: PerformanceWanted) => Promise<Figures> {
  let kept: Base | undefined;
  return async (wanted) => {
    const opened = readDatabase(folder);
    if (opened.problem !== undefined) return opened;
    if (opened.value === null) return { value: wanted.fromMs.map(() => null) };
    const db = opened.value;
    // Of two looks at once only one goes on from it.
    const from = kept;
    kept = undefined;
    try {
      const { figures, base } = await figuresIn(db, wanted, from);
      kept = base;
      return figures;
    } finally {
      db.close();
    }
  };
}

async function figuresIn(
  db: Database,
  wanted: PerformanceWanted,
  kept: Base | undefined,
): Promise<{ figures: Figures; base?: Base }> {
  const { fromMs: windows, toMs, unit, isOver = () => false } = wanted;
  const since = attemptOn(db, () => keptSince(db, unit));
  if (since.problem !== undefined) return { figures: since };
  const said = wordsAfter(db, 0);
  if (said.problem !== undefined) return { figures: said };
  const rows = attemptOn(db, () => rowsOf(db, kept?.eventRow ?? 0));
  if (rows.problem !== undefined) return { figures: rows };
  const sinceMs = since.value ?? toMs;
  const words = said.value.filter((word) => unit === undefined || word.unit === unit);
  const fromMs = Math.max(sinceMs, Math.min(...windows));
  const goesOn = kept !== undefined && isStill(kept, wanted, fromMs, words, rows.value);
  const base = goesOn
    ? kept
    : {
        lives: startLives(words, fromMs),
        unit,
        startedMs: toMs,
        toldMs: Number.NEGATIVE_INFINITY,
        eventRow: 0,
        wordRow: 0,
      };
  base.eventRow = rows.value.last;
  base.wordRow = said.value.at(-1)?.row ?? 0;
  const baseMs = Math.max(base.toldMs, toMs - lateMs);
  // The first kept event, not the window's: what stands has been raised before.
  base.lives = hearing(base.lives, words);
  const before = await tellAll(db, base.lives, base.toldMs, baseMs, unit, isOver);
  if (before.value !== "all") return { figures: called(before) };
  base.toldMs = baseMs;
  const lives = hearing(structuredClone({ ...base.lives, words: [] }), words);
  const after = await tellAll(db, lives, baseMs, toMs, unit, isOver);
  if (after.value !== "all") return { figures: called(after), base };
  goOnTo(lives, toMs);
  const value = windows.map((windowMs) => {
    const knownMs = Math.max(windowMs, sinceMs);
    if (knownMs >= toMs) return null;
    const figures = figuresOf(lives, knownMs, toMs);
    return { ...figures, held: heldAgainst(figures), priorities: heldPriorities(figures) };
  });
  return { figures: { value }, base };
}

/** Whether nothing came since that counts before what has been told. */
function isStill(
  { lives, unit, startedMs, toldMs, eventRow, wordRow }: Base,
  { unit: wanted, toMs }: PerformanceWanted,
  fromMs: number,
  words: readonly StoredWord[],
  { last, earliestMs }: { readonly last: number; readonly earliestMs: number },
): boolean {
  return (
    unit === wanted &&
    lives.sinceMs <= fromMs &&
    toMs >= toldMs &&
    toMs < startedMs + forgetsAfterMs &&
    last >= eventRow &&
    earliestMs >= toldMs &&
    words.every((word) => word.row <= wordRow || countsMs(word) >= toldMs)
  );
}

function rowsOf(db: Database, afterRow: number): { readonly last: number; readonly earliestMs: number } {
  const last = db.prepare("SELECT MAX(rowid) AS row FROM events").get()?.row;
  const earliest = db.prepare("SELECT MIN(+time_ms) AS ms FROM events WHERE rowid > ?").get(afterRow)?.ms;
  return { last: Number(last ?? 0), earliestMs: Number(earliest ?? Number.POSITIVE_INFINITY) };
}

/** Tells events from a time to before another, some at a go. */
async function tellAll(
  db: Database,
  lives: Lives,
  fromMs: number,
  toMs: number,
  unit: string | undefined,
  isOver: () => boolean,
): Promise<Outcome<"all" | "some">> {
  const events = eventsIn(db, { sinceMs: fromMs, untilMs: toMs, ...(unit !== undefined && { unit }) });
  for (;;) {
    const took = attemptOn(db, () => {
      for (let taken = 0; taken < eventsAtOnce; taken++) {
        const next = events.next();
        if (next.done) return "all" as const;
        if (next.value.timeMs < toMs) tell(lives, toldBy(next.value.line, next.value.timeMs));
      }
      return "some" as const;
    });
    if (took.problem !== undefined || took.value === "all") return took;
    await others();
    if (isOver()) return took;
  }
}

function called(off: Outcome<unknown>): Figures {
  return off.problem !== undefined ? { problem: off.problem } : { value: undefined };
}

function toldBy(line: string, timeMs: number): Told {
  const event = JSON.parse(line) as Omit<Told, "timeMs" | "sinceMs"> & { readonly since: string };
  return { ...event, timeMs, sinceMs: Date.parse(event.since) };
}
