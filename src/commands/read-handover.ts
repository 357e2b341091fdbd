import { type Heard, hearing } from "../assess/heard.ts";
import { renewedIn } from "../collector/read-history.ts";
import type { EpisodeEvent } from "../report/episodes.ts";
import type { OnRecord } from "../report/handover-input.ts";
import { readDatabase } from "../store/database.ts";
import { eventsFrom, eventsOfAlarmBefore, firstEvents } from "../store/events.ts";
import { type HandedOver, lastHandover } from "../store/handovers.ts";
import { attemptOn } from "../store/outcome.ts";
import { servicesAfter } from "../store/services.ts";
import type { Database } from "../store/sqlite.ts";
import { wordsAfter } from "../store/words.ts";
import { besideLogger } from "./beside-logger.ts";
import { eventOf } from "./gather-report.ts";
import { must } from "./kept-state.ts";

/** The last handover of a state folder, null where nobody has handed over; undefined where nothing is kept. */
export function readLastHandover(folder: string): Omit<HandedOver, "id"> | null | undefined {
  return onDatabase(folder, (db) => must(lastHandover(db)));
}

/** What a state folder holds of the time since a handover. */
export interface Past {
  readonly events: readonly EpisodeEvent[];
  readonly heard: readonly Heard[];
  readonly services: readonly OnRecord[];
}

/** What is kept since a time, with what `fresh` events go on from; undefined where nothing is kept. */
export function readPast(
  folder: string,
  nowMs: number,
  wanted: Parameters<typeof eventsSince>[1],
): Past | undefined {
  const { sinceMs } = wanted;
  return onDatabase(folder, (db) => ({
    events: eventsSince(db, wanted).filter(({ timeMs }) => timeMs <= nowMs),
    heard: hearing(must(wordsAfter(db, 0)), nowMs, renewedIn(db), (_, timeMs) => timeMs >= sinceMs),
    services: must(servicesAfter(db, 0)).map((one) => (one.saidMs >= sinceMs ? besideLogger(one, db) : one)),
  }));
}

function onDatabase<T>(folder: string, work: (db: Database) => T): T | undefined {
  const db = must(readDatabase(folder));
  if (db === null) return undefined;
  try {
    return must(attemptOn(db, () => work(db)));
  } finally {
    db.close();
  }
}

/**
 * Kept events of a time on, and those that a handover did not know of (`seen`), up to `newest`; then `fresh` ones; all by time. Before
 * them those of each alarm that goes on there and had begun: what is over for longer is not read. Throws what SQLite throws.
 */
export function eventsSince(
  db: Database,
  {
    sinceMs,
    seen,
    newest,
    fresh,
  }: {
    readonly sinceMs: number;
    readonly seen: ReadonlyMap<string, number> | null;
    readonly newest: ReadonlyMap<string, number>;
    readonly fresh: readonly EpisodeEvent[];
  },
): readonly EpisodeEvent[] {
  const firsts = firstEvents(db, sinceMs);
  return [...newest]
    .flatMap(([unit, newestSeq]) => {
      const unseen = seen === null ? Number.POSITIVE_INFINITY : (seen.get(unit) ?? 0) + 1;
      const from = Math.min(firsts.get(unit) ?? Number.POSITIVE_INFINITY, unseen, newestSeq + 1);
      const kept = eventsFrom(db, unit, from).filter(({ seq }) => seq <= newestSeq);
      const within = [
        ...kept.map(({ line, timeMs }) => eventOf(line, timeMs)),
        ...fresh.filter((event) => event.unit === unit),
      ];
      const before = [...Map.groupBy(within, ({ alarm }) => alarm)].flatMap(([alarm, [first]]) =>
        first.event === "raised" ? [] : begunBefore(db, unit, from, alarm),
      );
      return [...before, ...within];
    })
    .toSorted((a, b) => a.timeMs - b.timeMs);
}

/** The events of an alarm that stood before a place, in order. */
function begunBefore(db: Database, unit: string, seq: number, alarm: string): EpisodeEvent[] {
  const stood: EpisodeEvent[] = [];
  for (const { line, timeMs } of eventsOfAlarmBefore(db, unit, seq, alarm)) {
    const event = eventOf(line, timeMs);
    if (event.event === "cleared" || event.event === "settings-changed") break;
    stood.unshift(event);
    if (event.event === "raised") break;
  }
  return stood;
}
