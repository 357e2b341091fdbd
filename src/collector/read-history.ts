import { setImmediate as others } from "node:timers/promises";
import { hearing, type Renewed } from "../assess/heard.ts";
import type { Display } from "../fleet/display.ts";
import type { Unit } from "../fleet/unit.ts";
import { readDatabase } from "../store/database.ts";
import { eventsBefore, eventsIn, type StoredEvent } from "../store/events.ts";
import { attemptOn, type Outcome } from "../store/outcome.ts";
import { servicesAfter } from "../store/services.ts";
import type { Database } from "../store/sqlite.ts";
import { wordsAfter } from "../store/words.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import type { EventKind, Evidence } from "../terms/events.ts";
import { messageIn, type Worded } from "./event-words.ts";
import {
  type HistoryEntry,
  type HistoryPage,
  type HistoryWanted,
  isWanted,
  newerFirst,
} from "./history-page.ts";
import { type Served, serving } from "./served.ts";

/** So many events are looked at in one go: a few milliseconds. */
const eventsAtOnce = 1000;

/**
 * A page of the alarm history by a state folder, with what people said; empty where nothing is kept. The thread goes on
 * with its other work in between. Undefined where it was called off.
 */
export async function readHistory(
  folder: string,
  wanted: HistoryWanted,
  isOver: () => boolean,
  fleet: Worded,
): Promise<Outcome<HistoryPage | undefined>> {
  const opened = readDatabase(folder);
  if (opened.problem !== undefined) return opened;
  if (opened.value === null) return { value: { entries: [], more: false } };
  const db = opened.value;
  try {
    return await pageIn(db, wanted, isOver, fleet);
  } finally {
    db.close();
  }
}

async function pageIn(
  db: Database,
  wanted: HistoryWanted,
  isOver: () => boolean,
  fleet: Worded,
): Promise<Outcome<HistoryPage | undefined>> {
  const words = wordsAfter(db, 0);
  if (words.problem !== undefined) return words;
  const said = attemptOn(db, () =>
    hearing(words.value, wanted.untilMs, renewedIn(db))
      .map((heard): HistoryEntry => {
        const { timeMs, unit, alarm, event, row, ...word } = heard;
        return { timeMs, unit, alarm, event, isWord: true, n: row, word };
      })
      .filter((entry) => isWanted(entry, wanted)),
  );
  if (said.problem !== undefined) return said;
  const services = servicesAfter(db, 0);
  if (services.problem !== undefined) return services;
  const served = serving(services.value, wanted.untilMs)
    .map(servedEntry)
    .filter((entry) => isWanted(entry, wanted));
  const { before, rows } = wanted;
  const place = before && { ...before, seq: before.isWord ? Number.MAX_SAFE_INTEGER : before.n };
  const events = eventsBefore(db, wanted, place);
  const found: HistoryEntry[] = [];
  const units = new Map(fleet.units.map((unit) => [unit.id, unit]));
  for (;;) {
    const took = attemptOn(db, () => {
      for (let taken = 0; taken < eventsAtOnce; taken++) {
        const next = events.next();
        if (next.done) return "all";
        const entry = entryOf(next.value, units.get(next.value.unit), fleet.display);
        if (isWanted(entry, wanted)) found.push(entry);
        if (found.length > rows) return "all";
      }
      return "some";
    });
    if (took.problem !== undefined) return took;
    if (took.value === "all") break;
    await others();
    if (isOver()) return { value: undefined };
  }
  const all = [...said.value, ...served, ...found].sort(newerFirst);
  return { value: { entries: all.slice(0, rows), more: all.length > rows } };
}

function servedEntry({
  timeMs,
  unit,
  event,
  work,
  by,
  note,
  untilMs,
  fromMs,
  saidMs,
  row = 0,
}: Served): HistoryEntry {
  return {
    timeMs,
    unit,
    isWord: true,
    n: -row,
    alarm: "all",
    event,
    word: {
      ...(by !== undefined && { by }),
      ...(note !== undefined && { note }),
      ...(untilMs !== undefined && { untilMs }),
    },
    service: { work, ...(fromMs !== undefined && { fromMs }), ...(saidMs !== undefined && { saidMs }) },
  };
}

/** An event as it is kept, its message as people see it. */
function entryOf(
  { unit, seq, timeMs, line }: StoredEvent,
  its: Unit | undefined,
  display: Display,
): HistoryEntry {
  const told = JSON.parse(line) as {
    alarm: AlarmName;
    event: EventKind;
    priority: Priority;
    message: string;
    evidence?: Evidence;
    by?: string;
  };
  const { alarm, event, priority, by } = told;
  const message = messageIn(told, its, display);
  return { timeMs, unit, isWord: false, n: seq, alarm, event, priority, message, ...(by && { cause: by }) };
}

/** Whether an alarm's kept events make an acknowledgement one anew. */
export function renewedIn(db: Database): Renewed {
  return (unit, alarm, fromMs, toMs) =>
    [...eventsIn(db, { sinceMs: fromMs, untilMs: toMs, unit })].some(({ line }) => {
      const event = JSON.parse(line) as { alarm: string; event: string };
      return event.alarm === alarm && (event.event === "cleared" || event.event === "priority-changed");
    });
}
