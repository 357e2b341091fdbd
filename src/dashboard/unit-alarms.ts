import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import { spoken } from "../fleet/display.ts";
import type { AlarmName } from "../terms/alarms.ts";
import { type Channel, channels, channelUnit } from "../terms/channels.ts";
import type { EvidenceItem } from "../terms/events.ts";
import { noTripWords } from "./found-words.ts";
import { type Line, line, span } from "./line.ts";
import { moment } from "./local-time.ts";
import { partlyJudgedMark, partlyJudgedWords } from "./partly-judged.ts";
import { nowText, quantityText } from "./reading-text.ts";
import { list, paragraph, type Section } from "./section.ts";
import { answerWords, lastedWords } from "./state-words.ts";
import { isActive, isGone, isOver, openAlarms } from "./urgency.ts";
import { alarmStateWords, alarmWords, channelWords, priorityMark, priorityStyle } from "./words.ts";

/** A unit's alarms in full: open ones first, then those set aside. */
export function alarmSections(unit: UnitView, view: FleetView, width: number): readonly Section[] {
  const open = openAlarms(unit);
  const aside = unit.alarms.filter((alarm) => !open.includes(alarm));
  const sections: Section[] = [];
  const lines: Line[] = [];
  const { problem, problemPriority } = unit;
  if (problem !== null)
    lines.push(
      [
        span("  "),
        span(` ${priorityMark[problemPriority]} `, priorityStyle[problemPriority]),
        span(" Cannot be read", "strong"),
      ],
      ...paragraph("   ", problem, width),
    );
  const { noTrip } = unit.found ?? {};
  if (noTrip !== undefined)
    lines.push(
      [
        span("  "),
        span(` ${priorityMark.high} `, priorityStyle.high),
        span(" Ground-fault device", "strong"),
      ],
      ...paragraph(
        "   ",
        noTripWords(noTrip, (timeMs) => moment(timeMs, view.clockMs, view.timezone)),
        width,
      ),
    );
  const alarms = new Map<AlarmName, number>();
  for (const [index, alarm] of open.entries()) {
    if (index > 0) lines.push(line(""));
    alarms.set(alarm.alarm, lines.length);
    lines.push(...alarmLines(alarm, unit, view, width));
  }
  const none = unit.catchingUp
    ? "not judged yet: its logs are still being read"
    : "none; silence is no proof of safety";
  if (lines.length === 0) lines.push(line(`   ${none}`));
  else if (unit.catchingUp)
    lines.push(line("   as they stood before: the rest of its logs is still being read"));
  const partly = partlyJudgedWords(unit);
  if (partly !== null) lines.push(...paragraph(` ${partlyJudgedMark} `, partly, width));
  sections.push({ title: "Alarms", lines, alarms });
  if (aside.length > 0)
    sections.push({
      title: "Alarms set aside",
      lines: aside.flatMap((alarm) => alarmLines(alarm, unit, view, width)),
    });
  return sections;
}

function alarmLines(alarm: AlarmView, unit: UnitView, view: FleetView, width: number): readonly Line[] {
  const by = alarm.by === null ? "" : ` by ${alarm.by.replaceAll("-", " ")}`;
  const { guidance } = alarm;
  const now = isActive(alarm) && !isOver(alarm) ? nowText(alarm, unit, view.display) : "";
  const since = moment(alarm.sinceMs, view.clockMs, view.timezone);
  const raised = moment(alarm.raisedMs, view.clockMs, view.timezone);
  const said = moment(alarm.saidMs ?? alarm.raisedMs, view.clockMs, view.timezone);
  return [
    [
      span("  "),
      span(` ${priorityMark[alarm.priority]} ${alarm.priority} `, priorityStyle[alarm.priority]),
      span(` ${alarmWords(alarm.alarm)}`, "strong"),
      span(`${lastedWords(alarm, view.clockMs)} · ${alarmStateWords[alarm.state]}${by}`),
    ],
    ...paragraph("   ", alarm.message, width),
    line(`   since ${since}, raised ${raised}${said === raised ? "" : `; as it stood at ${said}`}`),
    ...peopleLines(alarm, unit, view).flatMap((text) => paragraph("   ", text, width)),
    ...list("now", now === "" ? [] : [now], false, width),
    ...list("how soon", isGone(alarm) ? [] : [guidance.howSoon], false, width),
    ...list("what to do", guidance.actions, true, width),
    ...list("caution", guidance.cautions, false, width),
    ...list("likely causes", guidance.likelyCauses, false, width),
    ...list(
      said === raised ? "when raised" : "as it stood",
      evidenceWords(alarm, view.display),
      false,
      width,
    ),
  ];
}

/** What people have done about it, and what became of it. */
export function peopleLines(alarm: AlarmView, unit: UnitView, view: FleetView): readonly string[] {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  const { acknowledged, noted, chattering } = alarm;
  const aside = unit.setAside.find((one) => one.alarm === alarm.alarm);
  const because = (note: string | undefined): string => (note === undefined ? "" : `: ${note}`);
  return [
    ...(isGone(alarm) ? [answerWords(alarm, view.clockMs, at)] : []),
    ...(acknowledged
      ? [`acknowledged by ${acknowledged.by} at ${at(acknowledged.atMs)}${because(acknowledged.note)}`]
      : []),
    ...(aside
      ? [
          `${aside.state === "shelved" ? "shelved" : "taken out of service"} by ${aside.by} at ${at(aside.atMs)}` +
            `${aside.untilMs === undefined ? "" : ` until ${at(aside.untilMs)}`}${because(aside.note)}`,
        ]
      : []),
    ...(noted ? [`note by ${noted.by} at ${at(noted.atMs)}${because(noted.note)}`] : []),
    ...(chattering === undefined ? [] : [`came and went: raised ${chattering} times within the hour`]),
  ];
}

/** Each number that decided an alarm, with what it was held against; in more digits where those look alike. */
function evidenceWords(alarm: AlarmView, system: "si" | "us"): readonly string[] {
  return Object.entries(alarm.evidence).map(([name, item]) => {
    const { value } = item;
    const text = (number: number | string): string => amount(name, item, number, system);
    const held = (["baseline", "limit"] as const).flatMap((what) => {
      const than = item[what];
      return than === undefined ? [] : [{ what, than }];
    });
    const alike = held.find(({ than }) => than !== value && text(than) === text(value));
    const say = (number: number | string, other: number | string): string =>
      alike !== undefined && isAmount(name, item) && typeof number === "number"
        ? spoken(system).against(name, number, Number(other))[0]
        : text(number);
    const said = `${evidenceName(name)} ${say(value, alike?.than ?? value)}`;
    return [said, ...held.map(({ what, than }) => `${what} ${say(than, value)}`)].join(", ");
  });
}

function evidenceName(name: string): string {
  return isChannel(name) ? channelWords[name] : name.replaceAll("_", " ");
}

function amount(name: string, item: EvidenceItem, value: number | string, system: "si" | "us"): string {
  if (typeof value === "number" && isAmount(name, item)) return quantityText(name, value, system);
  return item.unit === "" ? String(value) : `${value} ${item.unit}`;
}

function isAmount(name: string, { unit }: EvidenceItem): name is Channel {
  return isChannel(name) && unit === channelUnit[name] && unit !== "";
}

function isChannel(name: string): name is Channel {
  return (channels as readonly string[]).includes(name);
}
