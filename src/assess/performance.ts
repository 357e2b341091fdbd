import { median, quantile } from "simple-statistics";
import { type Counted, countedPriorities, type Priority } from "../terms/alarms.ts";
import { day, hour, minute } from "../terms/time.ts";
import { type Flood, floodsIn, periodCounts, periodMs } from "./floods.ts";
import type { Lives, Raising, Source } from "./lives.ts";
import { chatteringRaises } from "./response.ts";
import { type StaleDay, staleByDay } from "./stale.ts";
import { standingAt } from "./standing.ts";

/** How a fleet's alarms did over a window. */
export interface Performance {
  readonly fromMs: number;
  readonly toMs: number;
  /** Alarms that people were told of. */
  readonly announced: number;
  readonly perDay: number;
  readonly perHour: number;
  readonly perTenMinutes: number;
  readonly mostInTenMinutes: number;
  /** Share of ten-minute periods with more than ten. */
  readonly busyPeriods: number;
  /** Share of hours with more than thirty. */
  readonly busyHours: number;
  readonly floods: readonly Flood[];
  /** Share of the window within a flood. */
  readonly inFlood: number;
  /** Announced three times or more within a minute at some time. */
  readonly chattering: readonly Source[];
  /** Announced four times or more within an hour: what the screen calls chattering. */
  readonly repeating: readonly Source[];
  /** Back to normal within a minute of being announced, of those that do not chatter. */
  readonly fleeting: readonly Counting[];
  /** Had stood for more than a day at the end of the window. */
  readonly stale: readonly Source[];
  /** How many had stood for more than a day at some time of each day, counted back from the window's end. */
  readonly staleByDay: readonly StaleDay[];
  readonly mostStaleOnADay: number;
  /** Share of each priority among the announced. */
  readonly byPriority: Readonly<Record<Counted, number>>;
  /** The ten that were announced most often, and their share of all. */
  readonly mostFrequent: readonly Counting[];
  readonly mostFrequentShare: number;
  readonly acknowledgement: Readonly<Record<Counted | "all", Acknowledgement>>;
  /** What people were not told of when it was raised: no part of `announced`, unless it stood on afterwards. */
  readonly notAnnounced: {
    readonly whileShelved: number;
    readonly whileOutOfService: number;
    readonly suppressed: number;
  };
  /** How often people set alarms aside. */
  readonly timesShelved: number;
  readonly timesOutOfService: number;
  readonly atEnd: {
    readonly standing: Readonly<Record<Counted, number>>;
    readonly unacknowledged: number;
    readonly shelved: number;
    readonly outOfService: number;
    readonly suppressed: number;
  };
}

export interface Counting extends Source {
  readonly times: number;
}

/** Answers to announced alarms; times from being announced to being acknowledged, ms. */
export interface Acknowledgement {
  readonly acknowledged: number;
  /** Nobody has, up to the window's end. One that chatters and kept its answer is in neither. */
  readonly unacknowledged: number;
  readonly medianMs: number | null;
  /** Null of fewer than ten. */
  readonly ninetiethMs: number | null;
}

const busyHour = 30;
const busyPeriod = 10;
const chatteringTimes = 3;
/** Below so many the 90th percentile would be the slowest of all. */
const leastForNinetieth = 10;

/** A window's figures from what has been told up to `toMs` and is remembered from `fromMs` on at least; times in ms. */
export function figuresOf(lives: Lives, fromMs: number, toMs: number): Performance {
  const within = (timeMs: number | null): boolean => timeMs !== null && timeMs >= fromMs && timeMs < toMs;
  const announced = lives.announced.filter(({ announcedMs }) => within(announcedMs));
  const times = announced.map(({ announcedMs }) => announcedMs ?? 0);
  const span = toMs - fromMs;
  const n = announced.length;
  const periods = periodCounts(times, fromMs, toMs, periodMs);
  const hours = periodCounts(times, fromMs, toMs, hour);
  const floods = floodsIn(periods, fromMs, toMs);
  const bySource = [...Map.groupBy(announced, ({ unit, alarm }) => `${unit}/${alarm}`).values()];
  const chattering = bySource.filter((raisings) => cameWithin(raisings, chatteringTimes, minute));
  const mostFrequent = counted(bySource).slice(0, 10);
  const standing = standingAt(lives, toMs);
  const days = staleByDay([...lives.stood, ...standing.alarms], fromMs, toMs);
  const count = (all: readonly number[]) => all.filter(within).length;
  const becameAlarms = (all: readonly Raising[]) => all.filter(({ alarmMs }) => within(alarmMs)).length;
  return {
    fromMs,
    toMs,
    announced: n,
    perDay: (n * day) / span,
    perHour: (n * hour) / span,
    perTenMinutes: (n * periodMs) / span,
    mostInTenMinutes: periods.reduce((most, alarms) => Math.max(most, alarms), 0),
    busyPeriods: periods.filter((alarms) => alarms > busyPeriod).length / periods.length,
    busyHours: hours.filter((alarms) => alarms > busyHour).length / hours.length,
    floods,
    inFlood: floods.reduce((sum, flood) => sum + flood.toMs - flood.fromMs, 0) / span,
    chattering: chattering.map(sourceOf),
    repeating: bySource.filter((raisings) => cameWithin(raisings, chatteringRaises, hour)).map(sourceOf),
    fleeting: counted(
      bySource
        .filter((raisings) => !chattering.includes(raisings))
        .map((raisings) => raisings.filter(isFleeting)),
    ),
    stale: standing.alarms.filter(({ alarmMs }) => toMs - alarmMs > day).map((one) => sourceOf([one])),
    staleByDay: days,
    mostStaleOnADay: days.reduce((most, { alarms }) => Math.max(most, alarms), 0),
    byPriority: byPriority((priority) => (n === 0 ? 0 : of(announced, priority).length / n)),
    mostFrequent,
    mostFrequentShare: n === 0 ? 0 : mostFrequent.reduce((sum, one) => sum + one.times, 0) / n,
    acknowledgement: {
      all: answersTo(announced, toMs),
      ...byPriority((priority) => answersTo(of(announced, priority), toMs)),
    },
    notAnnounced: {
      whileShelved: becameAlarms(lives.whileShelved),
      whileOutOfService: becameAlarms(lives.whileOutOfService),
      suppressed: count(lives.suppressedMs),
    },
    timesShelved: count(lives.shelvedMs),
    timesOutOfService: count(lives.outOfServiceMs),
    atEnd: {
      standing: byPriority((priority) => of(standing.alarms, priority).length),
      unacknowledged: standing.alarms.filter(({ acknowledged }) => !acknowledged).length,
      shelved: standing.shelved,
      outOfService: standing.outOfService,
      suppressed: standing.suppressed,
    },
  };
}

function byPriority<T>(value: (priority: Counted) => T): Record<Counted, T> {
  return Object.fromEntries(countedPriorities.map((priority) => [priority, value(priority)])) as Record<
    Counted,
    T
  >;
}

function of<T extends { readonly priority: Priority }>(all: readonly T[], priority: Priority): T[] {
  return all.filter((one) => one.priority === priority);
}

function sourceOf([{ unit, alarm }]: readonly Source[]): Source {
  return { unit, alarm };
}

function counted(bySource: readonly (readonly Source[])[]): Counting[] {
  return bySource
    .filter((all) => all.length > 0)
    .map((all) => ({ ...sourceOf(all), times: all.length }))
    .sort((a, b) => b.times - a.times);
}

function cameWithin(raisings: readonly Raising[], times: number, withinMs: number): boolean {
  return raisings.some(({ announcedMs }, place) => {
    const last = raisings[place + times - 1]?.announcedMs ?? Number.POSITIVE_INFINITY;
    return last - (announcedMs ?? 0) <= withinMs;
  });
}

function isFleeting({ announcedMs, returnedMs }: Raising): boolean {
  return announcedMs !== null && returnedMs !== null && returnedMs - announcedMs < minute;
}

function answersTo(announced: readonly Raising[], toMs: number): Acknowledgement {
  const waits = announced.flatMap(({ announcedMs, acknowledgedMs }) =>
    announcedMs === null || acknowledgedMs === null || acknowledgedMs >= toMs
      ? []
      : [acknowledgedMs - announcedMs],
  );
  const kept = announced.filter(
    ({ keptAnswer, acknowledgedMs }) => keptAnswer && acknowledgedMs === null,
  ).length;
  return {
    acknowledged: waits.length,
    unacknowledged: announced.length - waits.length - kept,
    medianMs: waits.length === 0 ? null : median(waits),
    ninetiethMs: waits.length < leastForNinetieth ? null : quantile(waits, 0.9),
  };
}
