import type { FleetView, Note, SetAside, UnitView } from "../collector/fleet-view.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import { alarmNames } from "../terms/alarms.ts";
import { counted } from "../terms/text.ts";
import { moment } from "./local-time.ts";
import { begunWords } from "./saying/service-actions.ts";
import { paragraph, type Section } from "./section.ts";
import { alarmStateWords, alarmWords } from "./words.ts";

/** What people do, have set aside and remarked at a unit, but for alarms that are shown with it; no section where nothing is. */
export function peopleSection(unit: UnitView, view: FleetView, width: number): readonly Section[] {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  const shown = new Set<string>(unit.alarms.map(({ alarm }) => alarm));
  const words = [
    ...(unit.begun ?? []).map((one) => begunWords(one, at)),
    ...(unit.planned ?? []).map((one) => plannedWords(one, at)),
    ...asideTogether(unit).map((ones) => asideWords(ones, at)),
    ...(unit.notes ?? []).filter(({ alarm }) => !shown.has(alarm)).map((one) => noteWords(one, at)),
  ];
  if (words.length === 0) return [];
  return [{ title: "What people do here", lines: words.flatMap((text) => paragraph("   ", text, width)) }];
}

/** `stop planned by Ann from 14:30 until 18:00: pond drained`. */
function plannedWords({ by, atMs, untilMs, note }: ServiceRecord, at: (timeMs: number) => string): string {
  const until = untilMs === undefined ? "" : ` until ${at(untilMs)}`;
  const because = note === undefined ? "" : `: ${note}`;
  return `stop planned${by === undefined ? "" : ` by ${by}`} from ${at(atMs)}${until}${because}`;
}

/** `note by Ann at 03:14 on lost prime: the pond is low`; of all alarms without their name. */
function noteWords({ alarm, by, atMs, note = "" }: Note, at: (timeMs: number) => string): string {
  return `note by ${by} at ${at(atMs)}${alarm === "all" ? "" : ` on ${alarm.replaceAll("-", " ")}`}: ${note}`;
}

/** What people have set aside at a unit although it does not stand: what was said at once together. */
export function asideTogether({ alarms, setAside }: UnitView): readonly (readonly SetAside[])[] {
  const standing = new Set(alarms.map(({ alarm }) => alarm));
  const ones = setAside.filter(({ alarm }) => !standing.has(alarm));
  return [
    ...Map.groupBy(ones, ({ state, by, atMs, untilMs }) => `${state} ${atMs} ${untilMs} ${by}`).values(),
  ];
}

/** `all alarms out of service by ann`, `5 alarms shelved by ann`: of what nobody would be told. */
export function asideShortly(ones: readonly SetAside[]): string {
  const [first] = ones;
  if (first === undefined) return "";
  const named = ones.length <= 2 ? ones.map(({ alarm }) => alarmWords(alarm)).join(", ") : null;
  const all = ones.length === alarmNames.length;
  const what = named ?? (all ? "all alarms" : counted(ones.length, "alarm"));
  return `${what} ${alarmStateWords[first.state]} by ${first.by}`;
}

/** `all alarms`, or each by its name. */
function namesOf(ones: readonly SetAside[]): string {
  return ones.length === alarmNames.length ? "all alarms" : ones.map(({ alarm }) => alarm).join(", ");
}

/** `out of service by ann at 15:02 (new pump): all alarms`. */
export function asideWords(ones: readonly SetAside[], at: (timeMs: number) => string): string {
  const [first] = ones;
  if (first === undefined) return "";
  const { state, by, atMs, untilMs, note } = first;
  return (
    `${alarmStateWords[state]} by ${by} at ${at(atMs)}${untilMs === undefined ? "" : ` until ${at(untilMs)}`}` +
    `${note === undefined ? "" : ` (${note})`}: ${namesOf(ones)}`
  );
}
