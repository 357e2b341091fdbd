import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import { moment } from "../dashboard/local-time.ts";
import { isPartlyJudged } from "../dashboard/partly-judged.ts";
import { isActive, urgencyOf } from "../dashboard/urgency.ts";
import { truncate, widthOf } from "../dashboard/width.ts";
import { comparePriority } from "../terms/alarms.ts";
import { visible } from "../terms/text.ts";
import { age } from "../terms/time.ts";

const widest = 80;
const soonest: readonly AlarmView["guidance"]["urgency"][] = ["now", "soon", "next visit"];
/** Less of a fleet's name says nothing. */
const leastOfName = 4;
/** The most urgent counts have room in so much. */
const leastOfCounts = 24;

/**
 * A fleet's status as one line of at most 80 columns, for a prompt or a login message: alarms that stand by priority,
 * units by what else there is, the worst alarm by name, and of old data how old they are.
 */
export function statusLine(view: FleetView): string {
  const fleet = visible(view.fleet);
  const counts = `: ${countsOf(view.units).join(", ")}`;
  const named = worstWords(view);
  const old = oldWords(view);
  const mute = view.unnotified === undefined ? "" : " · nobody notified";
  for (const end of [named + old + mute, named + mute, named]) {
    const room = widest - widthOf(counts + end);
    if (room >= Math.min(leastOfName, widthOf(fleet))) return truncate(fleet, room) + counts + end;
  }
  const room = widest - widthOf(named);
  return room >= leastOfCounts
    ? truncate(counts.slice(2), room) + named
    : truncate((counts + named).slice(2), widest);
}

function countsOf(units: readonly UnitView[]): string[] {
  const active = units.flatMap((unit) => unit.alarms.filter(isActive));
  const unprotected = units.filter(({ found }) => found?.noTrip !== undefined);
  const isQuietOtherwise = (unit: UnitView): boolean =>
    unit.problem === null && !unit.alarms.some(isActive) && !unprotected.includes(unit);
  const others = units.filter(isQuietOtherwise);
  const returned = others.filter((unit) =>
    unit.alarms.some(({ state, priority }) => state === "returned-unacknowledged" && priority !== "prompt"),
  );
  const unread = others.filter((unit) => unit.catchingUp && !returned.includes(unit));
  const aside = others.filter((unit) => urgencyOf(unit) === "set aside" && !unread.includes(unit));
  const partly = others.filter(
    (unit) => isPartlyJudged(unit) && ![returned, unread, aside].some((group) => group.includes(unit)),
  );
  const of = (priority: AlarmView["priority"]): number =>
    active.filter((alarm) => alarm.priority === priority).length;
  const parts: [number, string][] = [
    [units.filter(({ problem }) => problem !== null).length, "cannot be read"],
    [unprotected.length, "without ground-fault protection"],
    [of("high"), "high"],
    [of("medium"), "medium"],
    [of("low"), "low"],
    [of("prompt"), "planned"],
    [returned.length, "to acknowledge"],
    [unread.length, "not read yet"],
    [aside.length, "set aside"],
    [partly.length, "partly judged"],
  ];
  return [
    ...parts.filter(([count]) => count > 0).map(([count, what]) => `${count} ${what}`),
    `${others.length - returned.length - unread.length - aside.length - partly.length} quiet`,
  ];
}

/** The alarm to answer first: ` · LM-03 lost prime 12 min`. */
function worstWords({ units, clockMs }: FleetView): string {
  const [worst] = units
    .flatMap(({ id, alarms }) => alarms.filter(isActive).map((alarm) => ({ id, alarm })))
    .filter(({ alarm }) => alarm.priority !== "prompt")
    .toSorted((a, b) => compareUrgency(a.alarm, b.alarm));
  if (worst === undefined) return "";
  const { alarm, sinceMs } = worst.alarm;
  return ` · ${visible(worst.id)} ${alarm.replaceAll("-", " ")} ${age(clockMs - sinceMs)}`;
}

/** Negative where `a` is to be answered before `b`: by priority, by how long it can wait, then what nobody has seen and has waited longest. */
function compareUrgency(a: AlarmView, b: AlarmView): number {
  const seen = ({ state }: AlarmView): number => Number(state === "active-acknowledged");
  const waits = ({ guidance }: AlarmView): number => soonest.indexOf(guidance.urgency);
  return (
    comparePriority(a.priority, b.priority) ||
    waits(a) - waits(b) ||
    seen(a) - seen(b) ||
    a.sinceMs - b.sinceMs
  );
}

/** Where no unit has readings that are fresh by its own deliveries: the time of the newest. */
function oldWords({ units, clockMs, timezone }: FleetView): string {
  const watched = units.filter(({ state }) => state !== "laid up");
  const newestMs = Math.max(...watched.map(({ lastReadingMs }) => lastReadingMs ?? -Infinity));
  const isOld = watched.length > 0 && watched.every(({ state }) => state === "no readings");
  return isOld && Number.isFinite(newestMs) ? ` · newest reading ${moment(newestMs, clockMs, timezone)}` : "";
}
