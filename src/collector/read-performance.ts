import { setImmediate as others } from "node:timers/promises";
import { goOnTo, startLives, type Told, tell } from "../assess/lives.ts";
import { figuresOf, type Performance } from "../assess/performance.ts";
import { type Held, type HeldPriorities, heldAgainst, heldPriorities } from "../assess/standards.ts";
import { readDatabase } from "../store/database.ts";
import { eventsIn } from "../store/events.ts";
import { keptSince } from "../store/kept-since.ts";
import { attemptOn, type Outcome } from "../store/outcome.ts";
import type { Database } from "../store/sqlite.ts";
import { wordsAfter } from "../store/words.ts";

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

/**
 * The figures of each window by a state folder, each window beginning where anything is known; null of one before that.
 * The thread goes on with its other work in between, and no read is held open meanwhile. Undefined where it was called off.
 */
export async function readPerformance(
  folder: string,
  wanted: PerformanceWanted,
): Promise<Outcome<readonly (PerformanceView | null)[] | undefined>> {
  const opened = readDatabase(folder);
  if (opened.problem !== undefined) return opened;
  if (opened.value === null) return { value: wanted.fromMs.map(() => null) };
  const db = opened.value;
  try {
    return await figuresIn(db, wanted);
  } finally {
    db.close();
  }
}

async function figuresIn(
  db: Database,
  { fromMs: windows, toMs, unit, isOver = () => false }: PerformanceWanted,
): Promise<Outcome<readonly (PerformanceView | null)[] | undefined>> {
  const since = attemptOn(db, () => keptSince(db, unit));
  if (since.problem !== undefined) return since;
  const said = wordsAfter(db, 0);
  if (said.problem !== undefined) return said;
  const sinceMs = since.value ?? toMs;
  const lives = startLives(
    said.value.filter((word) => unit === undefined || word.unit === unit),
    Math.max(sinceMs, Math.min(...windows)),
  );
  // The first kept event, not the window's: what stands has been raised before.
  const events = eventsIn(db, { untilMs: toMs, ...(unit !== undefined && { unit }) });
  for (;;) {
    const took = attemptOn(db, () => {
      for (let taken = 0; taken < eventsAtOnce; taken++) {
        const next = events.next();
        if (next.done) return "all";
        if (next.value.timeMs < toMs) tell(lives, toldBy(next.value.line, next.value.timeMs));
      }
      return "some";
    });
    if (took.problem !== undefined) return took;
    if (took.value === "all") break;
    await others();
    if (isOver()) return { value: undefined };
  }
  goOnTo(lives, toMs);
  return {
    value: windows.map((fromMs) => {
      const knownMs = Math.max(fromMs, sinceMs);
      if (knownMs >= toMs) return null;
      const figures = figuresOf(lives, knownMs, toMs);
      return { ...figures, held: heldAgainst(figures), priorities: heldPriorities(figures) };
    }),
  };
}

function toldBy(line: string, timeMs: number): Told {
  const event = JSON.parse(line) as Omit<Told, "timeMs" | "sinceMs"> & { readonly since: string };
  return { ...event, timeMs, sinceMs: Date.parse(event.since) };
}
