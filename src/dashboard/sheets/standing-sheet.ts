import type { AlarmView, CommonCause, FleetView, UnitView } from "../../collector/fleet-view.ts";
import { counted } from "../../terms/text.ts";
import { age } from "../../terms/time.ts";
import { blank, ends, type Line, line, type Span, span } from "../line.ts";
import { moment } from "../local-time.ts";
import { paragraph } from "../section.ts";
import { lastedWords } from "../state-words.ts";
import { peopleLines } from "../unit-alarms.ts";
import { asideTogether, asideWords } from "../unit-people.ts";
import { activeUrgency, alarmUrgency, isActive, isGone, type Urgency } from "../urgency.ts";
import { alarmStateWords, alarmWords, priorityMark, priorityStyle } from "../words.ts";
import { commonCauseGroups } from "./common-cause-groups.ts";
import { asOf, type Sheet, type SheetItem } from "./sheet.ts";

const indent = "     ";
const groups = [
  ["now", "Needed now"],
  ["soon", "Needed soon"],
  ["next visit", "At the next visit"],
  ["planned work", "Planned work"],
  ["set aside", "Set aside"],
] as const satisfies readonly (readonly [Urgency, string])[];

interface Standing {
  readonly urgency: Urgency;
  readonly sinceMs: number;
  /** How many alarms stand in it. */
  readonly many: number;
  /** Absent where nothing stands. */
  readonly alarm?: CommonCause["alarm"];
  readonly item: SheetItem;
}

/** Every alarm that stands, by how soon it must be answered, each cause with what it brings under it. */
export function standingSheet(view: FleetView, width: number): Sheet {
  const standing = view.units.flatMap((unit) => standingAt(unit, view, width));
  return {
    title: titleOf(view, standing),
    asOf: asOf(view),
    above: [],
    groups: groups.flatMap(([urgency, heading]) => {
      const here = standing
        .filter((one) => (one.urgency === "quiet" ? "next visit" : one.urgency) === urgency)
        .toSorted((a, b) => b.sinceMs - a.sinceMs);
      return commonCauseGroups([line(` ${heading} (${here.length})`, "strong")], here, view, width);
    }),
    none: "no alarm stands; silence is no proof of safety",
  };
}

/** `Standing alarms: 12 active at 9 of 24 units · 3 over · 27 set aside`. */
function titleOf({ units }: FleetView, standing: readonly Standing[]): string {
  const activeAt = units.map(
    ({ alarms, problem }) => alarms.filter(isActive).length + Number(problem !== null),
  );
  const active = activeAt.reduce((sum, many) => sum + many, 0);
  const at = activeAt.filter((many) => many > 0).length;
  const over = units
    .flatMap(({ alarms }) => alarms)
    .filter(({ state }) => state === "returned-unacknowledged").length;
  const aside = standing
    .filter(({ urgency }) => urgency === "set aside")
    .reduce((sum, { many }) => sum + many, 0);
  return [
    `Standing alarms: ${active} active at ${at} of ${counted(units.length, "unit")}`,
    ...(over > 0 ? [`${over} over`] : []),
    ...(aside > 0 ? [`${aside} set aside`] : []),
  ].join(" · ");
}

function standingAt(unit: UnitView, view: FleetView, width: number): readonly Standing[] {
  const names = new Set<string>(unit.alarms.map(({ alarm }) => alarm));
  const brought = (cause: AlarmView): readonly AlarmView[] =>
    unit.alarms.filter(({ state, by }) => state === "suppressed" && by === cause.alarm);
  const causes = unit.alarms.filter(
    ({ state, by }) => state !== "suppressed" || by === null || !names.has(by),
  );
  const listed = causes.map((alarm): Standing => {
    const urgency = alarmUrgency(alarm);
    return {
      urgency,
      sinceMs: alarm.sinceMs,
      many: 1,
      alarm: alarm.alarm,
      item: { unit: unit.id, lines: alarmLines(alarm, urgency, brought(alarm), unit, view, width) },
    };
  });
  return [...unreadable(unit, view, width), ...listed, ...asideOnly(unit, view, width)];
}

function alarmLines(
  alarm: AlarmView,
  urgency: Urgency,
  brought: readonly AlarmView[],
  unit: UnitView,
  view: FleetView,
  width: number,
): readonly Line[] {
  const lasted =
    alarm.state === "suppressed"
      ? ` for ${age(view.clockMs - alarm.sinceMs)}`
      : lastedWords(alarm, view.clockMs);
  const unanswered = alarm.state === "active-unacknowledged" || alarm.state === "returned-unacknowledged";
  const by = alarm.by === null ? "" : ` by ${alarm.by.replaceAll("-", " ")}`;
  const state =
    alarm.state === "active-unacknowledged" ? "not acknowledged" : `${alarmStateWords[alarm.state]}${by}`;
  const told = peopleLines(alarm, unit, view);
  return [
    title(
      unit,
      alarm.priority,
      urgency === "set aside" || alarm.state === "returned-unacknowledged",
      [
        span(alarmWords(alarm.alarm), "strong"),
        span(`${lasted} · `),
        span(state, unanswered ? "strong" : "plain"),
      ],
      width,
    ),
    ...(urgency === "set aside" || isGone(alarm)
      ? []
      : paragraph(`${indent}answer  `, alarm.guidance.howSoon, width)),
    ...told.flatMap((text) => paragraph(indent, text, width)),
    ...(brought.length === 0
      ? []
      : paragraph(
          `${indent}suppresses  `,
          brought.map((one) => `${alarmWords(one.alarm)} for ${age(view.clockMs - one.sinceMs)}`).join(" · "),
          width,
        )),
  ];
}

/** Badges are for what is active: colour is kept for the abnormal. */
function title(
  { id, site }: UnitView,
  priority: AlarmView["priority"],
  muted: boolean,
  what: readonly Span[],
  width: number,
): Line {
  const style = muted ? "plain" : priorityStyle[priority];
  const badge = span(` ${priorityMark[priority]} `, style);
  return ends([blank(1), badge, span(id, "strong"), span("  "), ...what], [span(site ?? "")], width);
}

function unreadable(unit: UnitView, view: FleetView, width: number): readonly Standing[] {
  const { problem, problemPriority, lastReadingMs, unreadSinceMs, unreadHowSoon } = unit;
  if (problem === null) return [];
  const lasted = lastReadingMs === null ? " · never read" : ` for ${age(view.clockMs - lastReadingMs)}`;
  const lines = [
    title(unit, problemPriority, false, [span("Cannot be read", "strong"), span(lasted)], width),
    ...(unreadHowSoon === undefined ? [] : paragraph(`${indent}answer  `, unreadHowSoon, width)),
    ...paragraph(indent, problem, width),
  ];
  const item = { unit: unit.id, lines };
  const urgency = activeUrgency(problemPriority);
  return [{ urgency, sinceMs: unreadSinceMs ?? 0, many: 1, alarm: "cannot-be-read", item }];
}

/** What people have set aside although it does not stand now. */
function asideOnly(unit: UnitView, view: FleetView, width: number): readonly Standing[] {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  return asideTogether(unit).map((ones) => ({
    urgency: "set aside",
    sinceMs: ones[0].atMs,
    many: ones.length,
    item: {
      unit: unit.id,
      lines: [
        ends(
          [
            blank(1),
            span(" · "),
            span(unit.id, "strong"),
            span("  "),
            span(ones.length === 1 ? alarmWords(ones[0].alarm) : counted(ones.length, "alarm"), "strong"),
            span(" · not standing"),
          ],
          [span(unit.site ?? "")],
          width,
        ),
        ...paragraph(indent, asideWords(ones, at), width),
      ],
    },
  }));
}
