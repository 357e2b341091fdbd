import type { FleetView, UnitHistory, UnitView } from "../collector/fleet-view.ts";
import type { AlarmName, Priority } from "../terms/alarms.ts";
import { age } from "../terms/time.ts";
import { type Line, span } from "./line.ts";
import { moment } from "./local-time.ts";
import { markedRow } from "./reading-mark.ts";
import { paragraph, type Section } from "./section.ts";
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
    else if ((event === "cleared" || event === "suppressed") && openSince.has(alarm))
      close(alarm, timeMs, null);
  }
  const standing = unit.alarms.filter((alarm) => isActive(alarm) && alarm.sinceMs < history.toMs);
  for (const alarm of standing) {
    openSince.set(alarm.alarm, Math.max(history.fromMs, alarm.sinceMs));
    close(alarm.alarm, history.toMs, alarm.priority);
  }
  // What was cleared only after the time of the charts.
  for (const alarm of openSince.keys()) close(alarm, history.toMs, null);
  return spans.toSorted((a, b) => b.toMs - a.toMs || a.fromMs - b.fromMs);
}

/** One row an alarm, at most `most`, with its stretches under the charts. */
export function alarmSpanLines(
  spans: readonly AlarmSpan[],
  history: UnitHistory,
  width: number,
  indent: number,
  most: number,
  marked: number | null = null,
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
      ...markedRow(cells.join(""), marked),
    ];
  });
}

function columnOf(timeMs: number, history: UnitHistory, width: number): number {
  return Math.floor(((timeMs - history.fromMs) / (history.toMs - history.fromMs)) * width);
}

/** Most alarms that are listed as over. */
const mostEarlier = 8;

/** What came and went in the history's time, the latest first; no section where nothing did. */
export function earlierSection(
  unit: UnitView,
  view: FleetView,
  history: UnitHistory | null,
  width: number,
): readonly Section[] {
  if (history === null) return [];
  const over = alarmSpans(unit, history).filter(
    ({ priority, toMs }) => priority === null && toMs < history.toMs,
  );
  if (over.length === 0) return [];
  const at = (timeMs: number) => moment(timeMs, view.clockMs, view.timezone);
  return [
    {
      title: "What came and went",
      lines: over
        .slice(0, mostEarlier)
        .flatMap(({ alarm, fromMs, toMs }) =>
          paragraph(
            "   ",
            `${alarmWords(alarm)} from ${at(fromMs)} to ${at(toMs)}, ${age(toMs - fromMs)}`,
            width,
          ),
        ),
    },
  ];
}
