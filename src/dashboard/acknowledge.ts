import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import type { Said } from "../collector/keeping.ts";
import { counted } from "../terms/text.ts";
import { alarmWords } from "./words.ts";

/** Whether an alarm waits for somebody's acknowledgement. */
function isUnanswered({ state, latched, returnedMs }: AlarmView): boolean {
  if (state === "active-unacknowledged" || state === "returned-unacknowledged") return true;
  return latched === true && returnedMs !== undefined && state === "active-acknowledged";
}

export function unanswered(unit: UnitView): readonly AlarmView[] {
  return unit.alarms.filter(isUnanswered);
}

/** The words that acknowledge a unit's alarms as they are seen: a newer raising is not meant. */
export function acknowledging(unit: UnitView, view: FleetView, by: string): readonly Said[] {
  return unanswered(unit).map(({ alarm, raisedMs }) => ({
    kind: "word",
    word: {
      id: crypto.randomUUID(),
      atMs: view.clockMs,
      unit: unit.id,
      alarm,
      action: "acknowledge",
      by,
      raisedMs,
    },
  }));
}

/** What is said once they are kept. */
export function acknowledgedWords(unit: UnitView, by: string): string {
  const alarms = unanswered(unit);
  const [first] = alarms;
  if (first === undefined) return `${unit.id}: nothing waits to be acknowledged`;
  const what = alarms.length === 1 ? alarmWords(first.alarm) : counted(alarms.length, "alarm");
  return `${unit.id}: ${what} acknowledged by ${by}`;
}
