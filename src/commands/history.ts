import { type Heard, hearing } from "../assess/heard.ts";
import { renewedIn } from "../collector/read-history.ts";
import { readPerformance } from "../collector/read-performance.ts";
import { fullTime } from "../dashboard/local-time.ts";
import { alarmWords } from "../dashboard/words.ts";
import { readDatabase } from "../store/database.ts";
import { eventsIn, newestEvent } from "../store/events.ts";
import { wordsAfter } from "../store/words.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { age, day, iso } from "../terms/time.ts";
import { instant } from "./check.ts";
import { CannotWork, print } from "./context.ts";
import { must } from "./kept-state.ts";
import { loadFleet, unitIn } from "./load-fleet.ts";
import { performanceLines } from "./performance-text.ts";
import { stateFolder } from "./state-folder.ts";

export interface HistoryOptions {
  readonly since?: string;
  readonly until?: string;
  readonly unit?: string;
  readonly json?: boolean;
  readonly performance?: boolean;
  readonly state?: string;
}

const usualMs = 7 * day;

/** `history`: the alarm history of a fleet from its state folder, with what people said. */
export async function history(fleetPath: string | undefined, options: HistoryOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const untilMs = options.until === undefined ? Date.now() : instant(options.until, "--until");
  const sinceMs = options.since === undefined ? untilMs - usualMs : instant(options.since, "--since");
  if (sinceMs >= untilMs) throw new CannotWork("--since comes before --until");
  const folder = stateFolder(fleet, path, options.state);
  const db = must(readDatabase(folder));
  if (db === null) {
    throw new CannotWork(`${visible(folder)}: no state is kept there yet; start watch or collect first`);
  }
  try {
    const words = must(wordsAfter(db, 0));
    const { unit } = options;
    // A unit that is in the fleet file no longer has its history all the same.
    const isKept = unit !== undefined && (newestEvent(db, unit) || words.some((word) => word.unit === unit));
    if (unit !== undefined && !isKept) unitIn(fleet, unit);
    if (options.performance) return await tellPerformance(folder, sinceMs, untilMs, options);
    const heard = hearing(words, Date.now(), renewedIn(db)).filter(
      ({ timeMs, unit }) =>
        timeMs >= sinceMs && timeMs <= untilMs && (options.unit === undefined || unit === options.unit),
    );
    const wanted = { sinceMs, untilMs, ...(options.unit !== undefined && { unit: options.unit }) };
    let said = 0;
    let lines = 0;
    const sayUpTo = (timeMs: number): void => {
      for (; said < heard.length && heard[said].timeMs < timeMs; said++, lines++) {
        print(options.json ? jsonLine(heardJson(heard[said])) : heardText(heard[said], fleet.timezone));
      }
    };
    for (const { timeMs, line } of eventsIn(db, wanted)) {
      sayUpTo(timeMs);
      print(options.json ? line : eventText(line, fleet.timezone));
      lines++;
    }
    sayUpTo(Number.POSITIVE_INFINITY);
    if (lines === 0 && !options.json) print(`nothing has happened in these ${age(untilMs - sinceMs)}`);
    return 0;
  } finally {
    db.close();
  }
}

async function tellPerformance(
  folder: string,
  sinceMs: number,
  untilMs: number,
  { unit, json }: HistoryOptions,
): Promise<number> {
  const wanted = { fromMs: [sinceMs], toMs: untilMs, ...(unit !== undefined && { unit }) };
  const figures = must(await readPerformance(folder, wanted))?.[0];
  if (!figures) {
    throw new CannotWork(
      `nothing is kept from before ${iso(untilMs)}; start watch or collect first, or give a later --until`,
    );
  }
  if (json) print(jsonLine({ ...figures, askedFromMs: sinceMs }));
  else for (const line of performanceLines(figures, untilMs - sinceMs)) print(line);
  return 0;
}

/** A line as `replay --events` writes it, for people. */
function eventText(line: string, timezone: string): string {
  const event = JSON.parse(line) as Record<
    "time" | "unit" | "alarm" | "event" | "priority" | "message",
    string
  > & {
    by?: string;
  };
  const by = event.by === undefined ? "" : ` by ${event.by}`;
  const what = `${event.event}${by}`.padEnd(12);
  return `${fullTime(Date.parse(event.time), timezone)}  ${event.unit}  ${what}  ${event.priority.padEnd(6)}  ${alarmWords(event.alarm)}: ${event.message}`;
}

function heardText(heard: Heard, timezone: string): string {
  const { timeMs, unit, alarm, event, by, note, untilMs, already, except = [] } = heard;
  const until = untilMs === undefined ? "" : ` until ${fullTime(untilMs, timezone)}`;
  const words = note === undefined ? "" : `: ${visible(note)}`;
  const first = already && `; ${visible(already.by)} had, at ${fullTime(already.timeMs, timezone)}`;
  const but = except.length === 0 ? "" : ` but ${except.map(alarmWords).join(", ")}`;
  const who = by === undefined ? "its time is over" : `by ${visible(by)}`;
  return `${fullTime(timeMs, timezone)}  ${unit}  ${event} ${who}${until}  ${alarmWords(alarm)}${but}${first ?? ""}${words}`;
}

function heardJson(heard: Heard): unknown {
  const { timeMs, unit, alarm, event, by, note, untilMs, already, except, row } = heard;
  return {
    time: new Date(timeMs).toISOString(),
    unit,
    alarm,
    event,
    ...(by !== undefined && { by }),
    ...(note !== undefined && { note }),
    ...(untilMs !== undefined && { until: new Date(untilMs).toISOString() }),
    ...(already && { already_by: already.by, already_at: new Date(already.timeMs).toISOString() }),
    ...(except && { except }),
    word: row,
  };
}
