import type { FleetView, SetAside, UnitView } from "../collector/fleet-view.ts";
import { moment } from "./local-time.ts";
import { begunWords } from "./saying/service-actions.ts";
import { paragraph, type Section } from "./section.ts";
import { alarmStateWords } from "./words.ts";

/** What people do and have set aside at a unit, but for alarms that are shown with it; no section where nothing is. */
export function peopleSection(unit: UnitView, view: FleetView, width: number): readonly Section[] {
  const at = (timeMs: number): string => moment(timeMs, view.clockMs, view.timezone);
  const shown = new Set(unit.alarms.map(({ alarm }) => alarm));
  const together = Map.groupBy(
    unit.setAside.filter(({ alarm }) => !shown.has(alarm)),
    ({ state, by, atMs, untilMs }) => `${state} ${atMs} ${untilMs} ${by}`,
  );
  const words = [
    ...(unit.begun ?? []).map((one) => begunWords(one, at)),
    ...[...together.values()].map((ones) => asideWords(ones, at)),
  ];
  if (words.length === 0) return [];
  return [{ title: "What people do here", lines: words.flatMap((text) => paragraph("   ", text, width)) }];
}

export function asideWords(ones: readonly SetAside[], at: (timeMs: number) => string): string {
  const [first] = ones;
  if (first === undefined) return "";
  const { state, by, atMs, untilMs, note } = first;
  return (
    `${alarmStateWords[state]} by ${by} at ${at(atMs)}${untilMs === undefined ? "" : ` until ${at(untilMs)}`}` +
    `${note === undefined ? "" : ` (${note})`}: ${ones.map(({ alarm }) => alarm).join(", ")}`
  );
}
