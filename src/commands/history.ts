import { hearing } from "../assess/heard.ts";
import { renewedIn } from "../collector/read-history.ts";
import { readPerformance } from "../collector/read-performance.ts";
import { serving } from "../collector/served.ts";
import { fullTime } from "../dashboard/local-time.ts";
import { readDatabase } from "../store/database.ts";
import { eventsIn, newestEvent } from "../store/events.ts";
import { servicesAfter } from "../store/services.ts";
import { wordsAfter } from "../store/words.ts";
import { jsonLine, visible } from "../terms/text.ts";
import { age, day } from "../terms/time.ts";
import { instant } from "./check.ts";
import { CannotWork, print } from "./context.ts";
import { eventText, heardJson, heardText, servedJson, servedText } from "./history-lines.ts";
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

/** `history`: the alarm history of a fleet from its state folder, with what people said and did. */
export async function history(fleetPath: string | undefined, options: HistoryOptions): Promise<number> {
  const { fleet, path } = await loadFleet(fleetPath);
  const nowMs = Date.now();
  const timeOf = (text: string, option: string): number => instant(text, option, fleet.timezone, nowMs);
  const untilMs = options.until === undefined ? nowMs : timeOf(options.until, "--until");
  const sinceMs = options.since === undefined ? untilMs - usualMs : timeOf(options.since, "--since");
  if (sinceMs >= untilMs) throw new CannotWork("--since comes before --until");
  const folder = stateFolder(fleet, path, options.state);
  const db = must(readDatabase(folder));
  if (db === null) {
    throw new CannotWork(`${visible(folder)}: no state is kept there yet; start watch or collect first`);
  }
  try {
    const words = must(wordsAfter(db, 0));
    const services = must(servicesAfter(db, 0));
    const { unit } = options;
    // A unit that is in the fleet file no longer has its history all the same.
    const isKept =
      unit !== undefined &&
      (newestEvent(db, unit) || [...words, ...services].some((one) => one.unit === unit));
    if (unit !== undefined && !isKept) unitIn(fleet, unit);
    if (options.performance) return await tellPerformance(folder, sinceMs, untilMs, fleet.timezone, options);
    const isAsked = (of: string, timeMs: number): boolean =>
      timeMs >= sinceMs && timeMs <= untilMs && (unit === undefined || of === unit);
    const people = [
      ...hearing(words, nowMs, renewedIn(db), isAsked).map((one) => ({
        ...one,
        json: () => heardJson(one),
        text: () => heardText(one, fleet.timezone),
      })),
      ...serving(services, nowMs).map((one) => ({
        ...one,
        json: () => servedJson(one),
        text: () => servedText(one, fleet.timezone),
      })),
    ]
      .filter((one) => isAsked(one.unit, one.timeMs))
      .sort((a, b) => a.timeMs - b.timeMs);
    const wanted = { sinceMs, untilMs, ...(options.unit !== undefined && { unit: options.unit }) };
    let said = 0;
    let lines = 0;
    const sayUpTo = (timeMs: number): void => {
      for (; said < people.length && people[said].timeMs < timeMs; said++, lines++)
        print(options.json ? jsonLine(people[said].json()) : people[said].text());
    };
    for (const { timeMs, line } of eventsIn(db, wanted)) {
      sayUpTo(timeMs);
      print(options.json ? line : eventText(line, fleet));
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
  timezone: string,
  { unit, json }: HistoryOptions,
): Promise<number> {
  const wanted = { fromMs: [sinceMs], toMs: untilMs, ...(unit !== undefined && { unit }) };
  const figures = must(await readPerformance(folder, wanted))?.[0];
  if (!figures) {
    throw new CannotWork(
      `nothing is kept from before ${fullTime(untilMs, timezone)}; start watch or collect first, or give a later --until`,
    );
  }
  if (json) print(jsonLine({ ...figures, askedFromMs: sinceMs }));
  else for (const line of performanceLines(figures, untilMs - sinceMs)) print(line);
  return 0;
}
