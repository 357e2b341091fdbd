import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import { comparePriority, type Priority } from "../terms/alarms.ts";

/**
 * How soon a unit needs someone, most urgent first. `set aside`: only alarms that a person shelved or
 * took out of service, whether or not they would stand, or that are suppressed. `catching up`: its logs are still to be read, so nobody knows.
 */
const urgencies = ["now", "soon", "next visit", "planned work", "set aside", "quiet", "catching up"] as const;
export type Urgency = (typeof urgencies)[number];

export interface RankedUnit {
  readonly unit: UnitView;
  readonly urgency: Urgency;
}

export function isActive(alarm: AlarmView): boolean {
  return alarm.state === "active-unacknowledged" || alarm.state === "active-acknowledged";
}

/** Its condition is over, though somebody has still to look at it: not acknowledged, or latched. */
export function isOver({ returnedMs }: AlarmView): boolean {
  return returnedMs !== undefined;
}

/** Its condition is over, or gone while its off-delay runs. */
export function isGone(alarm: AlarmView): boolean {
  return isOver(alarm) || alarm.clearing !== undefined;
}

/** Active, or returned to normal before anybody acknowledged it: what a person has still to look at. */
function isOpen(alarm: AlarmView): boolean {
  return isActive(alarm) || alarm.state === "returned-unacknowledged";
}

/**
 * A unit's most urgent active alarm decides; one that returned to normal waits for the next visit. A ground-fault device that
 * does not trip protects nobody, whatever else is well.
 */
export function urgencyOf(unit: UnitView): Urgency {
  if (unit.found?.noTrip !== undefined) return "now";
  if (unit.problem === null && unit.catchingUp && unit.alarms.length === 0) return "catching up";
  let most: Urgency = unit.problem === null ? "quiet" : activeUrgency(unit.problemPriority);
  for (const alarm of unit.alarms) {
    const urgency = alarmUrgency(alarm);
    if (urgencies.indexOf(urgency) < urgencies.indexOf(most)) most = urgency;
  }
  // Whoever sees a row among the quiet ones believes that somebody would be told.
  return most === "quiet" && unit.setAside.length > 0 ? "set aside" : most;
}

/** Nothing has been read of it yet: neither quiet nor wrong. */
export function isUnheard(unit: UnitView): boolean {
  return unit.lastReadingMs === null && unit.state === "no readings" && urgencyOf(unit) === "quiet";
}

export function alarmUrgency(alarm: AlarmView): Urgency {
  if (!isOpen(alarm)) return "set aside";
  if (!isActive(alarm)) return alarm.priority === "prompt" ? "quiet" : "next visit";
  return alarm.priority === "prompt" ? "planned work" : alarm.guidance.urgency;
}

export function activeUrgency(priority: Priority): Urgency {
  if (priority === "prompt") return "planned work";
  if (priority === "high") return "now";
  return priority === "medium" ? "soon" : "next visit";
}

/** Units that need someone now, those whose alarm nobody has acknowledged first. */
export function neededNow(view: FleetView): readonly UnitView[] {
  return worstFirst(view)
    .filter(({ urgency }) => urgency === "now")
    .map(({ unit }) => unit);
}

/** All that is open is back to normal: somebody should acknowledge it, and nobody is needed there. */
export function isOnlyReturned(unit: UnitView): boolean {
  return (
    unit.problem === null &&
    unit.found?.noTrip === undefined &&
    !unit.alarms.some(isActive) &&
    urgencyOf(unit) === "next visit"
  );
}

/** A unit's alarms that a person has still to look at, most urgent first. */
export function openAlarms(unit: UnitView): readonly AlarmView[] {
  return unit.alarms
    .filter(isOpen)
    .toSorted((a, b) => Number(isActive(b)) - Number(isActive(a)) || comparePriority(a.priority, b.priority));
}

/**
 * Worst first: by how soon someone is needed, then what nobody has acknowledged, then the newest
 * alarm. Quiet units, and with them those catching up, stay in the order of the fleet file, so that none moves
 * because its logs have been read.
 */
export function worstFirst(view: FleetView): readonly RankedUnit[] {
  return view.units
    .map((unit, place) => ({ unit, urgency: urgencyOf(unit), place }))
    .toSorted((a, b) => {
      const byUrgency = rank(a.urgency) - rank(b.urgency);
      if (byUrgency !== 0 || needsNothing(a.urgency)) return byUrgency || a.place - b.place;
      return (
        Number(isAcknowledged(a.unit)) - Number(isAcknowledged(b.unit)) ||
        newestRaised(b.unit) - newestRaised(a.unit) ||
        a.place - b.place
      );
    })
    .map(({ unit, urgency }) => ({ unit, urgency }));
}

/** Nothing is known to be wrong: quiet, or not judged yet. */
export function needsNothing(urgency: Urgency): boolean {
  return urgency === "quiet" || urgency === "catching up";
}

function rank(urgency: Urgency): number {
  return urgencies.indexOf(needsNothing(urgency) ? "quiet" : urgency);
}

function isAcknowledged(unit: UnitView): boolean {
  return openAlarms(unit)[0]?.state === "active-acknowledged";
}

function newestRaised(unit: UnitView): number {
  return openAlarms(unit)[0]?.raisedMs ?? unit.lastReadingMs ?? 0;
}
