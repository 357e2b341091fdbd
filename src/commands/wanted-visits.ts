import { type Pressing, pressing } from "../advise/route/day.ts";
import type { Booking } from "../advise/upkeep/due.ts";
import type { AlarmView, UnitView } from "../collector/fleet-view.ts";
import { isActive, isOnlyReturned, openAlarms, urgencyOf } from "../dashboard/urgency.ts";
import type { Site } from "../fleet/unit.ts";
import type { FleetDue, UnitDue } from "./service-upkeep.ts";

/** A unit that wants a visit, and why. */
export interface WantedVisit extends Pick<UnitDue, "unit"> {
  readonly pressing: Pressing;
  /** Why its logs cannot be read. */
  readonly problem: string | null;
  /** What visits found there and still holds. */
  readonly found: UnitView["found"];
  readonly alarms: readonly AlarmView[];
  readonly works: readonly Booking[];
}

/** A site with the units that want a visit, the most pressing first; `site` is null where they have none. */
export interface WantedSite {
  readonly site: Site | null;
  readonly units: readonly WantedVisit[];
}

/** Where somebody is wanted, the most pressing first: what is wrong (only `withAlarms`), what is due by `dayEndMs`, and what falls due by `earlyMs`. */
export function wantedSites(
  { fleet, units }: FleetDue,
  dayEndMs: number,
  earlyMs: number,
  withAlarms: boolean,
): readonly WantedSite[] {
  const wanted = units
    .flatMap((unit) => wantedVisit(unit, dayEndMs, earlyMs, withAlarms) ?? [])
    .toSorted((a, b) => pressing.indexOf(a.pressing) - pressing.indexOf(b.pressing));
  return [...Map.groupBy(wanted, ({ unit }) => unit.site)].map(([name, there]) => ({
    site: fleet.sites.find((site) => site.name === name) ?? null,
    units: there,
  }));
}

/** Whether something is wrong with a unit now. */
export function isWrong(due: UnitDue): boolean {
  return wrongness(due).length > 0;
}

function wantedVisit(
  due: UnitDue,
  dayEndMs: number,
  earlyMs: number,
  withAlarms: boolean,
): WantedVisit | null {
  const { unit, view, bookings } = due;
  const alarms = withAlarms ? openAlarms(view).filter((one) => isActive(one) && !isPlannedWork(one)) : [];
  const works = bookings.filter((booking) => firstMs(booking) <= earlyMs);
  const reasons: Pressing[] = [
    ...(withAlarms ? wrongness(due) : []),
    ...(alarms.length > 0 ? (["due"] as const) : []),
    ...works.map(({ dueMs }): Pressing => (dueMs <= dayEndMs ? "due" : "early")),
  ];
  if (reasons.length === 0) return null;
  return {
    unit,
    pressing: most(reasons),
    problem: withAlarms ? view.problem : null,
    found: withAlarms ? view.found : undefined,
    alarms,
    works,
  };
}

/** What is overdue stands among the works. */
function isPlannedWork({ alarm, priority }: AlarmView): boolean {
  return alarm === "service-overdue" || (alarm === "gas-pressure-drift" && priority === "prompt");
}

/** The earliest at which a work may be due: a forecast is booked before its interval begins. */
function firstMs({ dueMs, forecast }: Booking): number {
  return Math.min(dueMs, forecast?.earliestMs ?? Number.POSITIVE_INFINITY);
}

function wrongness({ view }: UnitDue): Pressing[] {
  const urgency = urgencyOf(view);
  if (urgency === "now" || urgency === "soon") return [urgency];
  // What is back to normal is acknowledged from anywhere: nobody drives there for it.
  return urgency === "next visit" && !isOnlyReturned(view) ? ["due"] : [];
}

function most(found: readonly Pressing[]): Pressing {
  return pressing.find((one) => found.includes(one)) ?? "early";
}
