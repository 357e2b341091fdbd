import { takesBack } from "../../src/fleet/services.ts";
import { readDatabase } from "../../src/store/database.ts";
import { eventsOf } from "../../src/store/events.ts";
import type { Outcome } from "../../src/store/outcome.ts";
import { servicesAfter } from "../../src/store/services.ts";
import { wordsAfter } from "../../src/store/words.ts";
import type { AlarmEvent } from "../../src/terms/events.ts";
import type { StoredWord } from "../../src/terms/words.ts";

/** Something that is kept and may be said only after a question. */
export interface Silence {
  readonly atMs: number;
  readonly units: readonly string[];
  /** What the question must have said. */
  readonly asked: string;
}

export interface Kept {
  /** Every word and every record. */
  readonly count: number;
  readonly silences: readonly Silence[];
}

/** A view is older than the log it was made of by this at most. */
const viewMs = 3000;

/** What a state folder keeps of what was said, and which of it silences a high alarm, a unit or a site. */
export function keptSilences(folder: string): Kept {
  const db = readable(readDatabase(folder));
  if (db === null) throw new Error(`no state is kept in ${folder}`);
  try {
    const words = readable(wordsAfter(db, 0));
    const services = readable(servicesAfter(db, 0));
    const events = readable(eventsOf(db)).map(({ line }) => JSON.parse(line) as EventLine);
    const together = Map.groupBy(words, ({ atMs, by, action }) => `${atMs} ${by} ${action}`);
    return {
      count: words.length + services.length,
      silences: [
        ...[...together.values()].flatMap((group) => ofWords(group, events)),
        ...services.flatMap((record) => {
          const { unit, work, step, saidMs: atMs } = record;
          if (step === "end" || step === "lapse" || takesBack(record)) return [];
          const asked =
            work === "baseline"
              ? `${unit}: baseline ${step}`
              : work === "planned stop"
                ? `${unit}: plan a stop`
                : step === "done"
                  ? `${unit}: put ${work} on record`
                  : `${unit}: begin ${work}`;
          return [{ atMs, units: [unit], asked }];
        }),
      ],
    };
  } finally {
    db.close();
  }
}

type EventLine = Pick<AlarmEvent, "unit" | "alarm" | "event" | "priority"> & { readonly time: string };

function ofWords(group: readonly StoredWord[], events: readonly EventLine[]): readonly Silence[] {
  const units = [...new Set(group.map(({ unit }) => unit))];
  return group.flatMap(({ action, alarm, atMs, unit }, n) => {
    if (action === "shelve" && !isLesser(unit, alarm, atMs, events))
      return [{ atMs, units: [unit], asked: `${unit}: shelve` }];
    if (action === "out-of-service") return [{ atMs, units: [unit], asked: `${unit}: take` }];
    if (action === "acknowledge" && units.length > 1 && n === 0)
      return [{ atMs, units, asked: "A whole site:" }];
    return [];
  });
}

/** Whether an alarm stood, and was not high, at some moment that the view may have shown. */
function isLesser(unit: string, alarm: string, atMs: number, events: readonly EventLine[]): boolean {
  const its = events
    .filter((one) => one.unit === unit && one.alarm === alarm)
    .filter(({ event }) => ["raised", "cleared", "priority-changed"].includes(event))
    .map(({ time, ...event }) => ({ ...event, timeMs: Date.parse(time) }));
  return its.some(({ event, priority, timeMs }, n) => {
    const until = its[n + 1]?.timeMs ?? Infinity;
    return event !== "cleared" && priority !== "high" && timeMs <= atMs && until >= atMs - viewMs;
  });
}

function readable<T>({ value, problem }: Outcome<T>): T {
  if (problem !== undefined) throw new Error(problem);
  return value as T;
}
