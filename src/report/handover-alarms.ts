import { alarmWords } from "../dashboard/words.ts";
import { comparePriority } from "../terms/alarms.ts";
import { age } from "../terms/time.ts";
import type { Episode } from "./episodes.ts";
import type { HandoverInput } from "./handover-input.ts";
import { placeOf } from "./handover-now.ts";
import { localTimes } from "./local.ts";

/** Whether anything of an alarm is new: since that time, or from readings that came after the last handover. */
export function isNew({ unit, seq }: Episode, timeMs: number, { sinceMs, seen }: HandoverInput): boolean {
  return timeMs >= sinceMs || (seen !== null && seq > (seen.get(unit) ?? 0));
}

/** Alarms that were raised and are back to normal again since then, or stood at its beginning and are over; most urgent first. */
export function cameAndWent(input: HandoverInput): string[] {
  const { view, episodes } = input;
  const times = localTimes(view.timezone, view.clockMs);
  const over = episodes.filter(
    (one): one is Episode & { endMs: number; raisedMs: number } =>
      one.raisedMs !== null &&
      one.endMs !== null &&
      isNew(one, one.endMs, input) &&
      one.priority !== "prompt",
  );
  return [...Map.groupBy(over, ({ unit, alarm }) => `${unit}/${alarm}`).values()]
    .map((all) => ({ all, priority: all.map(({ priority }) => priority).toSorted(comparePriority)[0] }))
    .toSorted((a, b) => comparePriority(a.priority, b.priority) || a.all[0].sinceMs - b.all[0].sinceMs)
    .map(({ all, priority }) => {
      const { unit: id, alarm, sinceMs: fromMs, endMs } = all[0];
      const newest = all[all.length - 1];
      const changed = newest.endedBySettings
        ? `; settings changed at ${times.moment(newest.endMs)}, it stood until then`
        : "";
      const unit = view.units.find((one) => one.id === id) ?? { id, site: null };
      const head = `${priority.toUpperCase()} ${placeOf(unit)}: ${alarmWords(alarm)}`;
      const last = newest.endMs;
      const until = times.date(fromMs) === times.date(last) ? times.clock(last) : times.moment(last);
      const when = `${times.moment(fromMs)} – ${until}`;
      if (all.length === 1) return `${head}, ${when} (${age(endMs - fromMs)})${changed}`;
      const longest = Math.max(...all.map((one) => one.endMs - one.sinceMs));
      return `${head}, ${all.length} times between ${when}, the longest ${age(longest)}${changed}`;
    });
}
