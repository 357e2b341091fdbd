import type { FleetView } from "../../collector/fleet-view.ts";
import type { HistoryEntry } from "../../collector/history-page.ts";
import { sentence } from "../../terms/text.ts";
import { type Line, line, lineWidth, type Span, span } from "../line.ts";
import { clockTime, fullTime, moment } from "../local-time.ts";
import { periodChoice, periods } from "../period.ts";
import { paragraph } from "../section.ts";
import { padEnd, truncate, widthOf } from "../width.ts";
import { alarmWords, priorityMark, priorityStyle } from "../words.ts";
import type { Sheet, SheetGroup, SheetItem } from "./sheet.ts";

/** What is at hand of the alarm history. */
export interface HistoryAnswer {
  /** Newest first; null until the first answer. */
  readonly entries: readonly HistoryEntry[] | null;
  readonly more: boolean;
  /** Of what time it is, ms. */
  readonly sinceMs: number;
  readonly untilMs: number;
  /** Why it cannot be read. */
  readonly problem: string | null;
}

export interface HistoryShown extends HistoryAnswer {
  /** It is what was wanted before: what is wanted now is being read. */
  readonly isReading: boolean;
}

const eventWidth = 16;
const indent = " ".repeat(11);

/** What came and went and what people said, the newest first; `chosen` is shown in full. */
export function historySheet(
  shown: HistoryShown,
  chosen: number,
  period: number,
  view: FleetView,
  width: number,
): Sheet {
  const { entries, more, sinceMs, untilMs, problem, isReading } = shown;
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  const idWidth = Math.min(14, Math.max(4, ...(entries ?? []).map(({ unit }) => widthOf(unit))));
  const days = new Map<string, SheetItem[]>();
  for (const [place, entry] of (entries ?? []).entries()) {
    const date = fullTime(entry.timeMs, view.timezone).replace(/ \d\d:.*/, "");
    const items = days.get(date) ?? [];
    items.push(item(entry, place === chosen, idWidth, view, width));
    days.set(date, items);
  }
  const groups = [...days].map(
    ([date, items]): SheetGroup => ({ heading: [line(` ${date}`, "strong")], items }),
  );
  return {
    title: "Alarm history of the fleet",
    asOf: isReading ? "reading …" : `${at(sinceMs)} to ${at(untilMs)}`,
    above: [
      [span(" length "), ...periodChoice(periods, period)],
      ...(problem === null ? [] : paragraph("   ", `the alarm history cannot be read: ${problem}`, width)),
    ],
    groups: more
      ? [...groups, { heading: [line("   older ones come as you go down", "dim")], items: [] }]
      : groups,
    none: entries === null && problem === null ? "reading the alarm history" : "nothing is kept of this time",
  };
}

/** `08:54:07  ■ OX-01  raised  Lost prime: …`. */
function item(
  entry: HistoryEntry,
  isChosen: boolean,
  idWidth: number,
  view: FleetView,
  width: number,
): SheetItem {
  const { timeMs, unit, event, priority, message } = entry;
  const raised = event === "raised" || event === "unsuppressed";
  const badge: Span =
    priority === undefined
      ? span("   ")
      : span(
          ` ${priorityMark[priority]} `,
          raised && priority !== "prompt" ? priorityStyle[priority] : "plain",
        );
  const start: Line = [
    span(" "),
    span(`${clockTime(timeMs, view.timezone, true)} `),
    badge,
    span(` ${padEnd(truncate(unit, idWidth), idWidth)}  ${padEnd(eventWords(entry), eventWidth)} `),
    span(subject(entry), raised ? "strong" : "plain"),
  ];
  const text = [saidWords(entry, view), message ?? ""].filter((part) => part !== "").join("; ");
  const room = width - lineWidth(start) - 2;
  const known = view.units.some(({ id }) => id === unit) ? unit : null;
  if (text === "") return { unit: known, lines: [start] };
  if (isChosen && widthOf(text) > room)
    return { unit: known, lines: [start, ...paragraph(indent, text, width)] };
  return { unit: known, lines: [[...start, span(`: ${text}`)]] };
}

function subject({ alarm, service }: HistoryEntry): string {
  if (service !== undefined) return sentence(service.work === "planned stop" ? "stop" : service.work);
  return alarm === "all" ? "All alarms" : alarmWords(alarm);
}

function eventWords({ event, cause, word, service }: HistoryEntry): string {
  if (service !== undefined) return event === "relearned" ? "learn anew" : event;
  if (word !== undefined && word.by === undefined) return "shelving is over";
  if (cause !== undefined) return "suppressed";
  return event.replaceAll("-", " ");
}

function saidWords({ word, cause, service }: HistoryEntry, view: FleetView): string {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  if (word === undefined) return cause === undefined ? "" : `by ${cause.replaceAll("-", " ")}`;
  const { by, note, untilMs, already, except = [] } = word;
  return [
    by === undefined ? (service === undefined ? "" : "by its time") : `by ${by}`,
    service?.fromMs === undefined ? "" : `from ${at(service.fromMs)}`,
    untilMs === undefined ? "" : `until ${at(untilMs)}`,
    except.length === 0 ? "" : `but ${except.map(alarmWords).join(", ")}`,
    already === undefined ? "" : `${already.by} had, at ${at(already.timeMs)}`,
    service?.saidMs === undefined ? "" : `put on record ${at(service.saidMs)}`,
    note ?? "",
  ]
    .filter((part) => part !== "")
    .join("; ");
}
