import type { UnitHistory, UnitView } from "../collector/fleet-view.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import { type Line, span } from "./line.ts";
import { isActive } from "./urgency.ts";
import { padEnd, truncate } from "./width.ts";
import { alarmWords, priorityMark } from "./words.ts";

/** When an alarm stood. */
export interface AlarmSpan {
  readonly alarm: AlarmName;
  readonly fromMs: number;
  readonly toMs: number;
  /** Known for alarms that still stand. */
  readonly priority: Priority | null;
}

/** Every stretch in the history's time during which an alarm stood, newest end first. */
export function alarmSpans(unit: UnitView, history: UnitHistory): readonly AlarmSpan[] {
  const spans: AlarmSpan[] = [];
  const openSince = new Map<AlarmName, number>();
  const close = (alarm: AlarmName, toMs: number, priority: Priority | null): void => {
    spans.push({ alarm, fromMs: openSince.get(alarm) ?? history.fromMs, toMs, priority });
    openSince.delete(alarm);
  };
  for (const { timeMs, alarm, event } of history.events) {
    if (event === "raised" || event === "unsuppressed") openSince.set(alarm, timeMs);
    else if (event === "cleared" || event === "suppressed") {
      if (event === "cleared" || openSince.has(alarm)) close(alarm, timeMs, null);
    }
  }
  for (const alarm of unit.alarms) {
    if (!isActive(alarm)) continue;
    openSince.set(alarm.alarm, Math.max(history.fromMs, alarm.sinceMs));
    close(alarm.alarm, history.toMs, alarm.priority);
  }
  return spans.toSorted((a, b) => b.toMs - a.toMs || a.fromMs - b.fromMs);
}

/** One row an alarm, at most `most`, with its stretches under the charts. */
export function alarmSpanLines(
  spans: readonly AlarmSpan[],
  history: UnitHistory,
  width: number,
  indent: number,
  most: number,
): readonly Line[] {
  const names = [...new Set(spans.map((each) => each.alarm))].slice(0, most);
  return names.map((name): Line => {
    const cells = Array.from({ length: width }, () => " ");
    let mark = " ";
    for (const { alarm, fromMs, toMs, priority } of spans) {
      if (alarm !== name) continue;
      if (priority !== null) mark = priorityMark[priority];
      const last = Math.min(width - 1, columnOf(toMs, history, width));
      for (let column = Math.max(0, columnOf(fromMs, history, width)); column <= last; column++)
        cells[column] = "▬";
    }
    return [
      span(` ${mark} ${padEnd(truncate(alarmWords(name), indent - 5), indent - 4)}│`),
      span(cells.join("")),
    ];
  });
}

function columnOf(timeMs: number, history: UnitHistory, width: number): number {
  return Math.floor(((timeMs - history.fromMs) / (history.toMs - history.fromMs)) * width);
}
