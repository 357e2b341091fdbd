import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import { noTripWords } from "./found-words.ts";
import { blank, ends, type Line, line, type Span, span } from "./line.ts";
import { moment } from "./local-time.ts";
import { nowText } from "./reading-text.ts";
import { answerWords, lastedWords, messageWords, stateWords } from "./state-words.ts";
import { asideShortly, asideTogether } from "./unit-people.ts";
import { isActive, isGone, isOver, openAlarms } from "./urgency.ts";
import { truncate, wrap } from "./width.ts";
import { alarmStateWords, alarmWords, priorityMark, priorityStyle, stateMark } from "./words.ts";

const indent = "     ";

/** A unit that needs someone now, in full: which, what, since when, the numbers, what to do first. */
export function needingNow(unit: UnitView, view: FleetView, width: number): readonly Line[] {
  const [first, ...others] = openAlarms(unit);
  const since = unit.sinceMs === null ? "" : ` since ${moment(unit.sinceMs, view.clockMs, view.timezone)}`;
  const title = [
    ...heading(unit, priorityMark.high, "high"),
    span(`  ${siteOf(unit)}${stateMark[unit.state]} ${unit.state}${since}`),
  ];
  const word = first === undefined || first.state === "active-unacknowledged" ? "" : statedWords(first, view);
  const lines: Line[] = [ends(title, [span(word)], width)];
  if (unit.problem !== null) lines.push(...told("Cannot be read", `: ${unit.problem}`, width, 3));
  const { noTrip } = unit.found ?? {};
  if (noTrip !== undefined) {
    const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
    lines.push(...told("Ground-fault device", `: ${noTripWords(noTrip, at)}`, width, 3));
  }
  if (first !== undefined) {
    lines.push(
      ...told(alarmWords(first.alarm), `${lastedWords(first, view.clockMs)}: ${first.message}`, width, 3),
    );
    lines.push(...nowAndDo(first, unit, view, width));
  }
  if (others.length > 0) lines.push(also(others, width));
  return lines;
}

/** What it reads now and what to do first; of what is over or about to clear, since when. */
function nowAndDo(alarm: AlarmView, unit: UnitView, view: FleetView, width: number): readonly Line[] {
  const now = isOver(alarm) ? "" : nowText(alarm, unit, view.display);
  const action = alarm.guidance.actions[0];
  const gone = isGone(alarm) ? answerWords(alarm, view.clockMs, atIn(view)) : null;
  return [
    ...(now === "" ? [] : told("now", `: ${now}`, width, 2)),
    ...(gone === null ? [] : told("", gone, width, 2)),
    ...(gone !== null || action === undefined ? [] : told("do", `: ${action}`, width, 2)),
  ];
}

/** A unit that can wait, in two rows: the alarm with its age, and the numbers. */
export function needingLater(unit: UnitView, view: FleetView, width: number): readonly Line[] {
  const [first, ...others] = openAlarms(unit);
  if (first === undefined) return unread(unit, width);
  const more = others.length === 0 ? "" : ` · ${others.length} more`;
  const word = first.state === "active-unacknowledged" ? "" : ` · ${statedWords(first, view)}`;
  const title = [
    ...heading(unit, priorityMark[first.priority], priorityStyle[first.priority]),
    span("  "),
    span(alarmWords(first.alarm), "strong"),
    span(`${lastedWords(first, view.clockMs)}${word}${more}`),
  ];
  return [
    ends(title, [span(`${siteOf(unit)}${stateMark[unit.state]} ${unit.state}`)], width),
    line(`${indent}${truncate(messageWords(first, view.clockMs, atIn(view)), width - indent.length)}`),
  ];
}

/** A unit that cannot be read and has no alarm besides. */
function unread({ id, site, problem, problemPriority }: UnitView, width: number): readonly Line[] {
  if (problem === null) return [];
  const title = [
    ...heading({ id }, priorityMark[problemPriority], priorityStyle[problemPriority]),
    span("  "),
    span("Cannot be read", "strong"),
  ];
  return [ends(title, [span(site ?? "")], width), ...told("", problem, width, 2)];
}

/** A unit with planned work, or with alarms set aside only: one row. */
export function needingNobody(unit: UnitView, view: FleetView, width: number): readonly Line[] {
  const planned = openAlarms(unit)[0];
  const mark = planned === undefined ? "·" : priorityMark.prompt;
  const what =
    planned === undefined
      ? [...unit.alarms.map(setAside), ...asideTogether(unit).map(asideShortly)].join(" · ")
      : `${alarmWords(planned.alarm)}${lastedWords(planned, view.clockMs)}: ${messageWords(planned, view.clockMs, atIn(view))}`;
  const state = span(`${stateMark[unit.state]} ${unit.state}`);
  return [ends([...heading(unit, mark, "plain"), span(`  ${what}`)], [state], width)];
}

/** `Cavitation shelved`, `Ozone off suppressed by lost prime`: an alarm that asks for nobody now. */
function setAside(alarm: AlarmView): string {
  const by = alarm.by === null ? "" : ` by ${alarm.by.replaceAll("-", " ")}`;
  return `${alarmWords(alarm.alarm)} ${alarmStateWords[alarm.state]}${by}`;
}

function statedWords(alarm: AlarmView, view: FleetView): string {
  return stateWords(alarm, atIn(view));
}

function atIn(view: FleetView): (timeMs: number) => string {
  return (timeMs) => moment(timeMs, view.clockMs, view.timezone);
}

/** The first four pieces of every selectable row: place for the selection's mark, badge, gap, id. */
function heading(unit: Pick<UnitView, "id">, mark: string, style: Span["style"]): readonly Span[] {
  const badge = style === "plain" ? [span(mark), blank(2)] : [span(` ${mark} `, style), blank(0)];
  return [blank(1), ...badge, span(unit.id, "strong")];
}

function siteOf(unit: UnitView): string {
  return unit.site === null ? "" : `${unit.site} · `;
}

function also(alarms: readonly AlarmView[], width: number): Line {
  const words = alarms.map((alarm) => {
    const returned = isActive(alarm) && !isOver(alarm) ? "" : " (returned)";
    return `${priorityMark[alarm.priority]} ${alarmWords(alarm.alarm)}${returned}`;
  });
  return line(truncate(`${indent}also ${words.join("   ")}`, width));
}

/** `strong` stands out, `rest` follows; in at most `rows` rows under the unit's id. */
function told(strong: string, rest: string, width: number, rows: number): readonly Line[] {
  const room = width - indent.length;
  const wrapped = wrap(`${strong}${rest}`, room);
  const shown = wrapped.slice(0, rows);
  const last = shown.length - 1;
  if (wrapped.length > rows) shown[last] = truncate(shown[last] ?? "", room, true);
  return shown.map((text, index) =>
    index === 0 && text.startsWith(strong)
      ? [span(indent), span(strong, "strong"), span(text.slice(strong.length))]
      : [span(indent), span(text)],
  );
}
