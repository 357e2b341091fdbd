import type { SendLine } from "../fleet/notify.ts";
import type { ToldAlarm } from "../store/deliveries.ts";
import { counted } from "../terms/text.ts";
import type { Bundle } from "./bundle.ts";
import type { Content } from "./content.ts";
import { mostAlarms } from "./content.ts";
import type { Plan } from "./plan.ts";
import type { Standing } from "./standing.ts";
import { clock, cut, lines, listed } from "./wording.ts";

type Text = Pick<Content, "subject" | "text">;

interface Around {
  readonly plan: Plan;
  readonly line: SendLine;
  readonly step: number;
  readonly nowMs: number;
}

const silence = "Silence is no proof of safety: treat the pumps as stopped until somebody has looked.";
const farewell =
  "Tarnwatch observes and advises; it stops no pump and no ozone cell. Never restart a unit from afar. The maker's manual, local codes and licensed trades come first.";

/** What a message of alarms says. The first line is for somebody who has just woken up. */
export function alarmText(bundle: Bundle, around: Around): Text {
  const { plan, line, step, nowMs } = around;
  const [first] = bundle.alarms;
  const late = step > 0 ? ", NOT ANSWERED" : "";
  const head = `${first.priority.toUpperCase()}${late}: ${whatStands(bundle, plan, nowMs)}.`;
  const helps = `${firstHelp(bundle)}.`;
  return {
    subject: cut(`${head} ${helps}`),
    text: lines(
      `${head} ${helps}`,
      "",
      ...(bundle.alarms.length === 1 ? inFull(first, plan, nowMs) : several(bundle, plan, nowMs)),
      "",
      ...accessTo(bundle, plan),
      whoIsNext(line, step, plan, nowMs),
      `Acknowledge it on the dashboard, or: tarnwatch alarm acknowledge FLEET ${first.unit} ${first.alarm}`,
      farewell,
    ),
  };
}

/** What a message of returned alarms says. */
export function returnText(
  gone: readonly (ToldAlarm & { readonly goneMs: number; readonly atMs: number })[],
  plan: Plan,
  nowMs: number,
): Text {
  const each = gone.map(
    ({ unit, alarm, goneMs, atMs }) =>
      `${placeOf(unit, plan)} ${alarm} at ${clock(goneMs, plan, nowMs)} (told ${clock(atMs, plan, nowMs)})`,
  );
  const head = `Returned to normal: ${each.slice(0, mostAlarms).join("; ")}`;
  return {
    subject: cut(head),
    text: lines(
      "Returned to normal:",
      ...each,
      "",
      "By its readings, that is: what caused it may still be there.",
    ),
  };
}

/** Place, alarm and since when, in one line. */
function whatStands(bundle: Bundle, plan: Plan, nowMs: number): string {
  const { alarms, scope, site } = bundle;
  const [first] = alarms;
  const sinceMs = Math.min(...alarms.map((alarm) => alarm.sinceMs));
  const since = `since ${clock(sinceMs, plan, nowMs)}`;
  if (alarms.length === 1) return `${placeOf(first.unit, plan)} ${first.alarm} ${since}`;
  const place = scope === "fleet" ? plan.fleet : (site ?? first.unit);
  const units = new Set(alarms.map(({ unit }) => unit)).size;
  if (bundle.isSilence && units > 1) {
    const all = scope === "fleet" ? [...plan.unitsAt.values()].flat() : (plan.unitsAt.get(site) ?? []);
    const kinds = new Set(alarms.map(({ silent }) => silent));
    const how = !kinds.has("not running")
      ? "fell silent"
      : kinds.size === 1
        ? "stopped"
        : "stopped or fell silent";
    const why = scope === "fleet" ? "one path of delivery, or power" : "power or link";
    return `${place}: ${units} of ${counted(all.length, "unit")} ${how} together ${since}: ${why}`;
  }
  const each = listed(alarms.map(({ unit, alarm }) => `${unit} ${alarm}`));
  return `${place}: ${counted(alarms.length, "alarm")} ${since}: ${each}`;
}

/** What helps at once. */
function firstHelp({ alarms, scope, isSilence }: Bundle): string {
  const [first] = alarms;
  if (isSilence && alarms.length > 1) {
    return scope === "fleet"
      ? "See whether log files still arrive here: server, link, disk; if they do, call each site"
      : "Call the site: is there power? If there is, look at the loggers and their link";
  }
  return (
    first.alarmView?.guidance.actions[0] ??
    "See why its log cannot be read here; call the site to look at the pump"
  );
}

/** Reason, how soon, cautions, what to do. */
function inFull(alarm: Standing, plan: Plan, nowMs: number): string[] {
  const { alarmView, chatters, problem } = alarm;
  if (alarmView === undefined) return [`Why: its log cannot be read: ${problem}`, silence];
  const { howSoon, actions, likelyCauses, cautions } = alarmView.guidance;
  return [
    `Why: ${alarmView.message}`,
    ...(problem === null ? [] : [`Its log cannot be read: ${problem}`]),
    `How soon: ${howSoon}.`,
    ...(chatters > 0
      ? [`It comes and goes: ${chatters} times within the hour. It is not told each time.`]
      : []),
    `Raised ${clock(alarm.raisedMs, plan, nowMs)}.`,
    "",
    "Caution:",
    ...cautions.map((caution) => `- ${caution}`),
    "",
    "What to do:",
    ...actions.map((action, i) => `${i + 1}. ${action}`),
    "",
    "Likely causes:",
    ...likelyCauses.map((cause) => `- ${cause}`),
  ];
}

function several({ alarms, isSilence }: Bundle, plan: Plan, nowMs: number): string[] {
  const told = alarms.slice(0, mostAlarms);
  const rest = alarms.slice(mostAlarms);
  const cautions = new Set(told.flatMap(({ alarmView }) => alarmView?.guidance.cautions ?? []));
  return [
    ...told.flatMap((alarm) => {
      const { alarmView, priority, unit, problem } = alarm;
      const why = alarmView?.message ?? `its log cannot be read: ${problem}`;
      const soon = alarmView ? ` ${alarmView.guidance.howSoon}.` : "";
      const action = alarmView?.guidance.actions[0];
      return [
        `${priority.toUpperCase()}  ${placeOf(unit, plan)} ${alarm.alarm} since ${clock(alarm.sinceMs, plan, nowMs)}: ${why}${soon}`,
        ...(isSilence || action === undefined ? [] : [`  First: ${action}.`]),
      ];
    }),
    ...(rest.length === 0 ? [] : [`And ${rest.length} more: ${listed(rest.map(({ unit }) => unit))}`]),
    ...(isSilence ? ["", silence] : []),
    ...(cautions.size === 0 ? [] : ["", "Caution:", ...[...cautions].map((caution) => `- ${caution}`)]),
  ];
}

function accessTo({ alarms }: Bundle, { sites }: Plan): string[] {
  const names = new Set(alarms.map(({ site }) => site));
  return sites
    .filter(({ name, access }) => access !== undefined && names.has(name))
    .slice(0, mostAlarms)
    .map(({ name, access }) => `Access to ${name}: ${access}`);
}

function whoIsNext(line: SendLine, step: number, plan: Plan, nowMs: number): string {
  const next = line.escalateTo[step];
  if (next === undefined) return "Nobody is told after you.";
  return `Unless somebody acknowledges it, ${next.join(" and ")} will be told at ${clock(nowMs + line.escalateAfterMs, plan, nowMs)}.`;
}

function placeOf(unit: string, { unitsAt }: Plan): string {
  const [site] = [...unitsAt].find(([, units]) => units.includes(unit)) ?? [null];
  return site === null ? unit : `${site} ${unit}`;
}
