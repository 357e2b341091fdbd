import { median } from "simple-statistics";
import type { Raising } from "../assess/lives.ts";
import { type AlarmName, alarmOrder, comparePriority, type Priority } from "../terms/alarms.ts";
import type { Episode } from "./episodes.ts";
import { type Interval, intersection, lengthOf } from "./intervals.ts";

/** One alarm of a unit over a period. */
export interface AlarmRow {
  readonly alarm: AlarmName;
  readonly priority: Priority;
  /** How often people were told in the period; 0 of one that stood from before. */
  readonly times: number;
  readonly stoodMs: number;
  readonly stands: boolean;
  /** Median time to acknowledge, ms; null where nobody did. */
  readonly acknowledgedMs: number | null;
}

/** A unit's alarms over a period, most urgent first; planned work left out. */
export function alarmRows(
  unit: string,
  episodes: readonly Episode[],
  announced: readonly Raising[],
  period: Interval,
): AlarmRow[] {
  const told = Map.groupBy(
    announced.filter((one) => one.unit === unit),
    ({ alarm }) => alarm,
  );
  return [...Map.groupBy(episodes, ({ alarm }) => alarm)]
    .flatMap(([alarm, held]): AlarmRow[] => {
      const priority = held.map((one) => one.priority).toSorted(comparePriority)[0];
      if (priority === "prompt") return [];
      const stood = held.map(({ sinceMs, endMs }) => ({ fromMs: sinceMs, toMs: endMs ?? period.toMs }));
      const waits = (told.get(alarm) ?? []).flatMap(({ announcedMs, acknowledgedMs }) =>
        announcedMs === null || acknowledgedMs === null ? [] : [acknowledgedMs - announcedMs],
      );
      return [
        {
          alarm,
          priority,
          times: told.get(alarm)?.length ?? 0,
          stoodMs: lengthOf(intersection(stood, [period])),
          stands: held.some(({ endMs }) => endMs === null),
          acknowledgedMs: waits.length === 0 ? null : median(waits),
        },
      ];
    })
    .toSorted((a, b) => comparePriority(a.priority, b.priority) || alarmOrder[a.alarm] - alarmOrder[b.alarm]);
}
