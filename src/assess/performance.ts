import { median, quantile } from "simple-statistics";
import { type AlarmName, type Priority, priorities } from "../terms/alarms.ts";
import type { AlarmEvent } from "../terms/events.ts";
import { day, hour, minute } from "../terms/time.ts";
import type { Word } from "../terms/words.ts";

type Told = Pick<AlarmEvent, "timeMs" | "unit" | "alarm" | "event" | "priority">;

/** How a fleet's alarms did over a window. Prompts are planned work, and none of the alarms that are counted. */
export interface Performance {
  readonly fromMs: number;
  readonly toMs: number;
  /** Alarms that were announced: raised, or outliving what had suppressed them. */
  readonly announced: number;
  readonly perDay: number;
  readonly perHour: number;
  readonly perTenMinutes: number;
  readonly mostInTenMinutes: number;
  /** Share of ten-minute periods with more than ten. */
  readonly busyPeriods: number;
  readonly floods: readonly { readonly fromMs: number; readonly toMs: number; readonly alarms: number }[];
  /** Share of the window within a flood. */
  readonly inFlood: number;
  /** Announced three times or more within a minute at some time. */
  readonly chattering: readonly Source[];
  /** Active for more than a day at the end of the window. */
  readonly stale: readonly Source[];
  /** Share of each priority among the announced. */
  readonly byPriority: Readonly<Record<Exclude<Priority, "prompt">, number>>;
  /** The ten that were announced most often, and their share of all. */
  readonly mostFrequent: readonly (Source & { readonly times: number })[];
  readonly mostFrequentShare: number;
  /** From being announced to being acknowledged, ms; null where none was. */
  readonly acknowledgedAfterMs: { readonly median: number; readonly ninetieth: number } | null;
  readonly acknowledged: number;
}

interface Source {
  readonly unit: string;
  readonly alarm: AlarmName;
}

const periodMs = 10 * minute;
const floodBegins = 10;
const floodEnds = 5;
const chatteringTimes = 3;

/** `events` in order of time. Times in ms; definitions by ANSI/ISA-18.2-2016 and EEMUA 191, read in secondary texts. */
export function performance(
  events: readonly Told[],
  words: readonly Word[],
  fromMs: number,
  toMs: number,
): Performance {
  const announced = events.filter(
    ({ timeMs, event, priority }) =>
      (event === "raised" || event === "unsuppressed") &&
      priority !== "prompt" &&
      timeMs >= fromMs &&
      timeMs < toMs,
  );
  const span = toMs - fromMs;
  const n = announced.length;
  const periods = periodCounts(announced, fromMs, toMs);
  const floods = floodsIn(periods, fromMs, toMs);
  const bySource = Map.groupBy(announced, ({ unit, alarm }) => `${unit}/${alarm}`);
  const often = [...bySource.values()]
    .map(([first, ...rest]) => ({ unit: first.unit, alarm: first.alarm, times: rest.length + 1 }))
    .sort((a, b) => b.times - a.times)
    .slice(0, 10);
  const waits = answerTimes(announced, words);
  return {
    fromMs,
    toMs,
    announced: n,
    perDay: (n * day) / span,
    perHour: (n * hour) / span,
    perTenMinutes: (n * periodMs) / span,
    mostInTenMinutes: periods.reduce((most, count) => Math.max(most, count), 0),
    busyPeriods: periods.filter((count) => count > floodBegins).length / periods.length,
    floods,
    inFlood: floods.reduce((sum, flood) => sum + flood.toMs - flood.fromMs, 0) / span,
    chattering: [...bySource.values()].filter(chatters).map(([{ unit, alarm }]) => ({ unit, alarm })),
    stale: staleAt(events, toMs),
    byPriority: Object.fromEntries(
      priorities
        .filter((priority) => priority !== "prompt")
        .map((priority) => [
          priority,
          n === 0 ? 0 : announced.filter((one) => one.priority === priority).length / n,
        ]),
    ) as Performance["byPriority"],
    mostFrequent: often,
    mostFrequentShare: n === 0 ? 0 : often.reduce((sum, { times }) => sum + times, 0) / n,
    acknowledgedAfterMs:
      waits.length === 0 ? null : { median: median(waits), ninetieth: quantile(waits, 0.9) },
    acknowledged: waits.length,
  };
}

/** Announced alarms in each ten minutes of the window, the last of them cut where the window ends. */
function periodCounts(announced: readonly Told[], fromMs: number, toMs: number): number[] {
  const counts = new Array<number>(Math.max(1, Math.ceil((toMs - fromMs) / periodMs))).fill(0);
  for (const { timeMs } of announced) counts[Math.floor((timeMs - fromMs) / periodMs)]++;
  return counts;
}

/** A flood begins with a period of more than ten alarms and ends before the first with fewer than five. */
function floodsIn(periods: readonly number[], fromMs: number, toMs: number): Performance["floods"] {
  const floods: { fromMs: number; toMs: number; alarms: number }[] = [];
  let open: (typeof floods)[number] | null = null;
  for (const [place, count] of periods.entries()) {
    const startMs = fromMs + place * periodMs;
    if (open !== null && count < floodEnds) open = null;
    if (open === null && count > floodBegins) {
      open = { fromMs: startMs, toMs: startMs, alarms: 0 };
      floods.push(open);
    }
    if (open === null) continue;
    open.toMs = Math.min(toMs, startMs + periodMs);
    open.alarms += count;
  }
  return floods;
}

function chatters(times: readonly Told[]): boolean {
  return times.some(({ timeMs }, k) => {
    const last = times[k + chatteringTimes - 1];
    return last !== undefined && last.timeMs - timeMs <= minute;
  });
}

/** What has been active for more than a day at `toMs`. */
function staleAt(events: readonly Told[], toMs: number): Source[] {
  const since = new Map<string, Told>();
  for (const told of events) {
    if (told.timeMs >= toMs) break;
    const key = `${told.unit}/${told.alarm}`;
    if (told.event === "raised" || told.event === "unsuppressed") since.set(key, told);
    else if (told.event !== "priority-changed") since.delete(key);
  }
  return [...since.values()]
    .filter(({ timeMs, priority }) => priority !== "prompt" && toMs - timeMs > day)
    .map(({ unit, alarm }) => ({ unit, alarm }));
}

/** How long each announced alarm waited for its acknowledgement, ms; those without one are left out. */
function answerTimes(announced: readonly Told[], words: readonly Word[]): number[] {
  const answers = Map.groupBy(
    words.filter(({ action, raisedMs }) => action === "acknowledge" && raisedMs !== undefined),
    ({ unit, alarm, raisedMs }) => `${unit}/${alarm}/${raisedMs}`,
  );
  return announced.flatMap(({ unit, alarm, timeMs }) => {
    const said = answers.get(`${unit}/${alarm}/${timeMs}`);
    return said === undefined ? [] : [Math.max(0, Math.min(...said.map(({ atMs }) => atMs)) - timeMs)];
  });
}
