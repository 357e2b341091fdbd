import { countedPriorities } from "../terms/alarms.ts";
import { day, second } from "../terms/time.ts";
import type { Family, Sample } from "./metric-family.ts";
import type { PerformanceView } from "./read-performance.ts";

/** The windows whose figures are metrics. */
export const metricWindows = [
  { window: "24h", ms: day },
  { window: "30d", ms: 30 * day },
] as const;

/** The figures of `metricWindows` as families; of a window of which nothing is known there are no samples. */
export function performanceFamilies(windows: readonly (PerformanceView | null)[]): Family[] {
  const known = metricWindows.flatMap(({ window }, place) => {
    const figures = windows[place] ?? null;
    return figures === null ? [] : [{ window, figures }];
  });
  const family = (
    name: string,
    help: string,
    samples: (figures: PerformanceView) => readonly Sample[],
    unit?: string,
  ): Family => ({
    name: `tarnwatch_${name}`,
    type: "gauge",
    help,
    samples: known.flatMap(({ window, figures }) =>
      samples(figures).map(([labels, value]): Sample => [{ window, ...labels }, value]),
    ),
    ...(unit !== undefined && { unit }),
  });
  const one = (value: (figures: PerformanceView) => number) => (figures: PerformanceView) => [
    [{}, value(figures)] as const,
  ];
  return [
    family(
      "performance_window_seconds",
      "How much of the window anything is known of.",
      one(({ fromMs, toMs }) => (toMs - fromMs) / second),
      "seconds",
    ),
    family(
      "announced_alarms",
      "Alarms that people were told of in the window; prompts are none.",
      one((f) => f.announced),
    ),
    family(
      "most_alarms_in_ten_minutes",
      "The most alarms in any ten minutes.",
      one((f) => f.mostInTenMinutes),
    ),
    family(
      "busy_periods_ratio",
      "Share of ten-minute periods with more than 10 alarms.",
      one((f) => f.busyPeriods),
      "ratio",
    ),
    family(
      "busy_hours_ratio",
      "Share of hours with more than 30 alarms.",
      one((f) => f.busyHours),
      "ratio",
    ),
    family(
      "flood_ratio",
      "Share of the time in alarm floods.",
      one((f) => f.inFlood),
      "ratio",
    ),
    family(
      "chattering_alarms",
      "Alarms that came 3 times within a minute.",
      one((f) => f.chattering.length),
    ),
    family(
      "repeating_alarms",
      "Alarms that came 4 times within an hour.",
      one((f) => f.repeating.length),
    ),
    family(
      "fleeting_alarms",
      "Alarms that were back to normal within a minute.",
      one((f) => f.fleeting.length),
    ),
    family(
      "most_stale_alarms_on_a_day",
      "The most alarms of any day that had stood for more than a day.",
      one((f) => f.mostStaleOnADay),
    ),
    family(
      "most_frequent_ratio",
      "Share of the ten most frequent alarms.",
      one((f) => f.mostFrequentShare),
      "ratio",
    ),
    family(
      "priority_ratio",
      "Share of each priority among the announced alarms.",
      ({ announced, byPriority }) =>
        countedPriorities.map((priority) => [{ priority }, announced === 0 ? null : byPriority[priority]]),
      "ratio",
    ),
    family(
      "time_to_acknowledge_seconds",
      "Median and 90th percentile of the time from an alarm to its acknowledgement.",
      ({ acknowledgement }) =>
        countedPriorities.flatMap((priority) => {
          const { medianMs, ninetiethMs } = acknowledgement[priority];
          return [
            [{ priority, part: "0.5" }, inSeconds(medianMs)],
            [{ priority, part: "0.9" }, inSeconds(ninetiethMs)],
          ];
        }),
      "seconds",
    ),
    family("unacknowledged_alarms", "Announced alarms that nobody has acknowledged.", ({ acknowledgement }) =>
      countedPriorities.map((priority) => [{ priority }, acknowledgement[priority].unacknowledged]),
    ),
    family(
      "not_announced_alarms",
      "Alarms that nobody was told of when they were raised, by why.",
      ({ notAnnounced: { whileShelved, whileOutOfService, suppressed } }) => [
        [{ why: "shelved" }, whileShelved],
        [{ why: "out-of-service" }, whileOutOfService],
        [{ why: "suppressed" }, suppressed],
      ],
    ),
    standing(windows),
    setAside(windows),
  ];
}

/** What stands at the windows' common end. */
function standing(windows: readonly (PerformanceView | null)[]): Family {
  const atEnd = windows.find((one) => one !== null)?.atEnd;
  return {
    name: "tarnwatch_standing_alarms",
    type: "gauge",
    help: "Alarms that stand before people now.",
    samples:
      atEnd === undefined
        ? []
        : countedPriorities.map((priority) => [{ priority }, atEnd.standing[priority]]),
  };
}

function setAside(windows: readonly (PerformanceView | null)[]): Family {
  const atEnd = windows.find((one) => one !== null)?.atEnd;
  return {
    name: "tarnwatch_set_aside_alarms",
    type: "gauge",
    help: "Alarms that are shelved, out of service or suppressed now.",
    samples:
      atEnd === undefined
        ? []
        : [
            [{ state: "shelved" }, atEnd.shelved],
            [{ state: "out-of-service" }, atEnd.outOfService],
            [{ state: "suppressed" }, atEnd.suppressed],
          ],
  };
}

function inSeconds(ms: number | null): number | null {
  return ms === null ? null : ms / second;
}
