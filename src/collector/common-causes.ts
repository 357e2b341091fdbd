import { type ActiveAt, commonCauses } from "../assess/common-cause.ts";
import type { FleetView, UnitView } from "./fleet-view.ts";

/** The causes that units of a site likely share, by the alarms that are active there and by what cannot be read; nothing where there is none. */
export function commonCausesOf(units: readonly UnitView[]): Pick<FleetView, "commonCauses"> {
  const found = commonCauses(units.flatMap(activeAt), unitsAtSites(units));
  return found.length === 0 ? {} : { commonCauses: found };
}

function activeAt({ id, site, intervalMs, alarms, unreadSinceMs }: UnitView): readonly ActiveAt[] {
  if (site === null) return [];
  const here = { unit: id, site, everyMs: intervalMs ?? 0 };
  const unread: readonly ActiveAt[] =
    unreadSinceMs === undefined ? [] : [{ ...here, alarm: "cannot-be-read", sinceMs: unreadSinceMs }];
  const active = alarms.filter(
    ({ state }) => state === "active-unacknowledged" || state === "active-acknowledged",
  );
  return [...unread, ...active.map(({ alarm, sinceMs }) => ({ ...here, alarm, sinceMs }))];
}

function unitsAtSites(units: readonly UnitView[]): ReadonlyMap<string, number> {
  const count = new Map<string, number>();
  for (const { site } of units) if (site !== null) count.set(site, (count.get(site) ?? 0) + 1);
  return count;
}
