import type { FleetView, UnitView } from "../collector/fleet-view.ts";
import { oldRecordings } from "../collector/old-recordings.ts";
import type { FleetRead } from "../collector/read-once.ts";
import { noTripWords } from "../dashboard/found-words.ts";
import { fullTime, moment } from "../dashboard/local-time.ts";
import { isPartlyJudged, partlyJudgedLines } from "../dashboard/partly-judged.ts";
import { nowText, quantityText } from "../dashboard/reading-text.ts";
import { answerWords, asideBy, lastedWords, stateWords } from "../dashboard/state-words.ts";
import { unnotifiedWords } from "../dashboard/unnotified.ts";
import {
  isActive,
  isGone,
  isOnlyReturned,
  isOver,
  isUnheard,
  needsNothing,
  openAlarms,
  type RankedUnit,
  type Urgency,
  worstFirst,
} from "../dashboard/urgency.ts";
import { alarmWords } from "../dashboard/words.ts";
import { suctionCaution } from "../fleet/suction-gauge.ts";
import type { Fleet } from "../fleet/unit.ts";
import { comparePriority, type Priority } from "../terms/alarms.ts";
import { ozoneStates } from "../terms/channels.ts";
import { counted, sentence, visible } from "../terms/text.ts";
import { iso } from "../terms/time.ts";
import { groundFaultJson } from "./found-json.ts";

/** The view of a fleet whose logs were read through once. */
export function viewOf(fleet: Fleet, read: FleetRead, clockMs: number, stateFolder: string): FleetView {
  const units = read.units.map(({ view }) => view);
  const notices = [
    read.folderProblem,
    oldRecordings(units, clockMs),
    ...fleet.units.map((unit) => suctionCaution(unit)),
  ];
  return {
    version: 1,
    fleet: fleet.name,
    timezone: fleet.timezone,
    display: fleet.display,
    clockMs,
    stateFolder,
    notices: notices.filter((line) => typeof line === "string"),
    units,
  };
}

/**
 * The priorities of what is wrong with a unit now; a unit that cannot be read counts as its silence would, a ground-fault device that
 * did not trip as a high alarm.
 */
export function standing(unit: UnitView): Priority[] {
  const alarms = unit.alarms.filter(isActive).map((alarm) => alarm.priority);
  const active: Priority[] = unit.found?.noTrip === undefined ? alarms : ["high", ...alarms];
  if (unit.problem === null) return active;
  return [...active, unit.problemPriority];
}

/** The most urgent of the priorities, prompts left out; null where nothing is wrong. */
export function worstOf(found: readonly Priority[]): Exclude<Priority, "prompt"> | null {
  const wrong = found.filter((priority) => priority !== "prompt").toSorted(comparePriority);
  return wrong[0] ?? null;
}

/** A fleet's status as lines of plain text, worst first. */
export function statusLines(view: FleetView): string[] {
  const { timezone, clockMs } = view;
  const ranked = worstFirst(view);
  const unnotified = unnotifiedWords(view);
  const at = (timeMs: number): string => moment(timeMs, clockMs, timezone);
  const lines = [
    `${visible(view.fleet)}, ${fullTime(clockMs, timezone)}: ${counted(view.units.length, "unit")}`,
    countsLine(ranked),
    ...(unnotified === null ? [] : [`! ${unnotified}`]),
    ...view.notices.map((notice) => `! ${visible(notice)}`),
  ];
  for (const { unit } of ranked) {
    const place = `${visible(unit.id)}${unit.site === null ? "" : `  ${visible(unit.site)}`}`;
    if (unit.problem !== null) lines.push("", `CANNOT BE READ  ${place}`, `  ${visible(unit.problem)}`);
    const { noTrip } = unit.found ?? {};
    if (noTrip !== undefined)
      lines.push("", `NOW  ${place}  Ground-fault device`, `  It ${noTripWords(noTrip, at)}.`);
    for (const open of openAlarms(unit)) {
      const { priority, alarm, state, message, guidance } = open;
      const now = isOver(open) ? "" : nowText(open, unit, view.display);
      const told = state === "active-unacknowledged" ? "" : ` (${visible(stateWords(open, at))})`;
      lines.push(
        "",
        `${priority.toUpperCase()}  ${place}  ${alarmWords(alarm)}${lastedWords(open, clockMs)}${told}`,
        `  ${message}`,
        ...(now === "" ? [] : [`  Reads now: ${now}.`]),
        isGone(open)
          ? `  ${sentence(answerWords(open, clockMs, at))}.`
          : `  ${guidance.howSoon}. First: ${guidance.actions[0]}.`,
      );
    }
  }
  const aside = ranked.flatMap(({ unit }) => asideLines(unit, at));
  if (aside.length > 0) lines.push("", ...aside);
  const quiet = ranked.filter(({ unit, urgency }) => needsNothing(urgency) || isOnlyReturned(unit));
  if (quiet.length > 0) lines.push("");
  const width = Math.max(0, ...quiet.map(({ unit }) => visible(unit.id).length));
  const label = (unit: UnitView): string =>
    isUnheard(unit) ? "not read yet" : isPartlyJudged(unit) ? "partly judged" : "quiet";
  const labelWidth = Math.max(0, ...quiet.map(({ unit }) => label(unit).length));
  for (const { unit } of quiet) {
    lines.push(
      `${label(unit).padEnd(labelWidth)}  ${visible(unit.id).padEnd(width)}  ${unit.state.padEnd(13)}  ${readingsText(unit, view.display)}`.trimEnd(),
    );
  }
  const partly = partlyJudgedLines(view.units).map(visible);
  if (partly.length > 0) lines.push("", ...partly);
  return [...lines, ...baselineLines(view.units)];
}

/** How many units need someone, by how soon; only what is not 0. */
function countsLine(ranked: readonly RankedUnit[]): string {
  const count = (...which: Urgency[]) =>
    ranked.filter(({ unit, urgency }) => which.includes(urgency) && !isOnlyReturned(unit)).length;
  const returned = ranked.filter(({ unit }) => isOnlyReturned(unit)).length;
  const partly = ranked.filter(({ unit, urgency }) => needsNothing(urgency) && isPartlyJudged(unit)).length;
  const unheard = ranked.filter(({ unit }) => isUnheard(unit)).length;
  const joined = (
    counts: readonly (readonly [number, string])[],
    write: (n: number, what: string) => string,
  ) => counts.filter(([number]) => number > 0).map(([number, what]) => write(number, what));
  const needed = joined(
    [
      [count("now"), "now"],
      [count("soon"), "soon"],
      [count("next visit", "planned work"), "at the next visit"],
    ],
    (number, when) => `${when} at ${number}`,
  );
  const others = joined(
    [
      [returned, "to acknowledge"],
      [count("set aside"), "set aside"],
      [count("quiet", "catching up") - partly - unheard, "quiet"],
      [unheard, "without readings yet"],
      [partly, "partly judged"],
    ],
    (number, what) => `${number} ${what}`,
  );
  const nobody = partly + unheard === 0 ? "nobody is needed" : "nobody is known to be needed";
  const who = needed.length === 0 ? nobody : `someone is needed ${needed.join(", ")}`;
  return [who, ...(others.length === 0 ? [] : [others.join(", ")])].join("; ");
}

/** A unit's alarms that are set aside, a row each. */
function asideLines(unit: UnitView, at: (timeMs: number) => string): string[] {
  const open = openAlarms(unit);
  return unit.alarms
    .filter((alarm) => !open.includes(alarm))
    .map((alarm) => visible(`set aside  ${unit.id}  ${alarmWords(alarm.alarm)} ${asideBy(alarm, unit, at)}`));
}

/** Baselines that somebody should answer for, and how many nobody has confirmed. */
function baselineLines(units: readonly UnitView[]): string[] {
  const asking = units.filter((unit) => unit.baselineAsks);
  const provisional = units.filter((unit) => unit.baseline === "provisional").length;
  const lines = asking.map(
    ({ id, baseline, baselineNote }) =>
      `baseline  ${visible(id)}  ${baseline}: ${visible(baselineNote ?? "")}`,
  );
  if (provisional > 0)
    lines.push(`provisional baselines, that nobody has confirmed: ${provisional} of ${units.length}`);
  return lines.length > 0 ? ["", ...lines] : [];
}

function readingsText(unit: UnitView, display: FleetView["display"]): string {
  return unit.readings
    .filter(({ value, part }) => value !== null && part === 0)
    .slice(0, 6)
    .map(({ channel, value }) =>
      channel === "ozone" ? `ozone ${ozoneStates[value ?? 0]}` : quantityText(channel, value ?? 0, display),
    )
    .join("  ");
}

/** What `check --json` prints. */
export function statusJson(view: FleetView): unknown {
  return {
    at: iso(view.clockMs),
    fleet: view.fleet,
    worst: worstOf(view.units.flatMap(standing)),
    units: view.units.map((unit) => ({
      id: unit.id,
      site: unit.site,
      state: unit.state,
      since: unit.sinceMs === null ? null : iso(unit.sinceMs),
      readings: Object.fromEntries(
        unit.readings.map(({ channel, part, value }) => [
          part === 0 ? channel : `${channel}.${part + 1}`,
          channel === "ozone" && value !== null ? ozoneStates[value] : value && Number(value.toPrecision(9)),
        ]),
      ),
      last_reading: unit.lastReadingMs === null ? null : iso(unit.lastReadingMs),
      baseline: unit.baseline,
      problem: unit.problem,
      ground_fault: groundFaultJson(unit.found),
      not_judged: unit.quiet.map(({ alarm, why, lacks }) => ({ alarm, why, lacks: lacks ?? [] })),
      alarms: unit.alarms.map(({ alarm, priority, sinceMs, state, message, evidence }) => ({
        alarm,
        priority,
        since: iso(sinceMs),
        state,
        message,
        evidence,
      })),
    })),
  };
}
