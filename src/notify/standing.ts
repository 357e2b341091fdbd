import type { AlarmView, FleetView, UnitView } from "../collector/fleet-view.ts";
import type { ToldAlarm } from "../store/deliveries.ts";
import type { AlarmName } from "../terms/alarms.ts";

/** An alarm that stands now and that nobody has answered or set aside. */
export interface Standing extends ToldAlarm {
  readonly site: string | null;
  readonly sinceMs: number;
  readonly raisedMs: number;
  /** No readings come, or the pump has stopped: what a power cut or a link that is down looks like. */
  readonly silent: "no readings" | "not running" | null;
  readonly intervalMs: number;
  /** Something is being damaged now: it waits for no other alarm. */
  readonly isPressing: boolean;
  /** The same silence under its other name: that of a log that could not be read. */
  readonly sameAs?: string;
  readonly chatters: number;
  /** Undefined: the unit's log cannot be read, and no alarm says so yet. */
  readonly alarmView?: AlarmView;
  readonly problem: string | null;
}

/** How the alarms of a fleet stand, as far as they can be judged. */
export interface Stand {
  readonly unanswered: readonly Standing[];
  /** Of each unit that has been read up to now: what is still active or set aside. Other units are left out. */
  readonly units: ReadonlyMap<
    string,
    { readonly ids: ReadonlySet<string>; readonly alarms: ReadonlySet<AlarmName> }
  >;
  /** Units that miss readings and are not called silent yet: since when, ms. */
  readonly mute: readonly { readonly sinceMs: number; readonly intervalMs: number }[];
}

/** The alarms of a view that people are to be told of. */
export function standOf(view: FleetView): Stand {
  const unanswered: Standing[] = [];
  const units = new Map<string, { ids: Set<string>; alarms: Set<AlarmName> }>();
  const mute: { sinceMs: number; intervalMs: number }[] = [];
  for (const unit of view.units) {
    if (unit.catchingUp) continue;
    const ids = new Set<string>();
    const alarms = new Set<AlarmName>();
    units.set(unit.id, { ids, alarms });
    for (const alarm of unit.alarms) {
      if (alarm.returnedMs !== undefined) continue;
      ids.add(idOf(unit, alarm));
      alarms.add(alarm.alarm);
      if (alarm.state === "active-unacknowledged") unanswered.push(standing(unit, alarm));
    }
    for (const { alarm } of unit.setAside) alarms.add(alarm);
    const { lastReadingMs: sinceMs, intervalMs } = unit;
    const misses = sinceMs !== null && intervalMs !== null && view.clockMs - sinceMs > 1.5 * intervalMs;
    if (misses && unit.problem === null && !alarms.has("readings-stale")) mute.push({ sinceMs, intervalMs });
    if (unit.problem === null) continue;
    ids.add(unreadableId(unit));
    if (!alarms.has("readings-stale")) unanswered.push(unreadable(unit, view.clockMs));
    alarms.add("readings-stale");
  }
  return { unanswered, units, mute };
}

function standing(unit: UnitView, alarm: AlarmView): Standing {
  return {
    id: idOf(unit, alarm),
    unit: unit.id,
    site: unit.site,
    alarm: alarm.alarm,
    priority: alarm.priority,
    sinceMs: alarm.sinceMs,
    raisedMs: alarm.raisedMs,
    silent:
      alarm.alarm === "readings-stale" ? "no readings" : alarm.alarm === "not-running" ? "not running" : null,
    intervalMs: unit.intervalMs ?? 0,
    isPressing: alarm.priority === "high" && alarm.guidance.urgency === "now",
    chatters: alarm.chattering ?? 0,
    alarmView: alarm,
    problem: unit.problem,
    ...(alarm.alarm === "readings-stale" && { sameAs: unreadableId(unit) }),
    ...(alarm.chattering !== undefined && { chattering: true as const }),
  };
}

function unreadable(unit: UnitView, nowMs: number): Standing {
  const sinceMs = unit.lastReadingMs ?? nowMs;
  return {
    id: unreadableId(unit),
    unit: unit.id,
    site: unit.site,
    alarm: "readings-stale",
    priority: unit.problemPriority,
    sinceMs,
    raisedMs: sinceMs,
    silent: "no readings",
    intervalMs: unit.intervalMs ?? 0,
    isPressing: false,
    chatters: 0,
    problem: unit.problem,
  };
}

/**
 * The event that raised an alarm: its unit, its place among the unit's events, and its time, since places begin
 * anew where a state folder was lost. Letters, digits and `-_~/@%` only: it stands in headers, and a full stop
 * parts what a webhook's signature covers.
 */
function idOf(unit: UnitView, { id, alarm, raisedMs }: AlarmView): string {
  const place = id === undefined ? alarm : id.slice(id.lastIndexOf("/") + 1);
  return `${plain(unit.id)}/${place}@${compact(raisedMs)}`;
}

function unreadableId(unit: UnitView): string {
  return `${plain(unit.id)}/unreadable@${unit.lastReadingMs === null ? "start" : compact(unit.lastReadingMs)}`;
}

function plain(unit: string): string {
  return encodeURIComponent(unit).replaceAll(".", "%2E");
}

/** `20260504T081220Z` */
function compact(timeMs: number): string {
  return new Date(timeMs).toISOString().replace(/[-:]|\.\d+/g, "");
}
