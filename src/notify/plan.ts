import { localClock } from "../fleet/local-clock.ts";
import type { Notify } from "../fleet/notify.ts";
import type { Fleet, Site } from "../fleet/unit.ts";

/** What messages are decided and worded by. */
export interface Plan extends Notify {
  readonly fleet: string;
  /** A wall clock's time in the fleet's zone, ms as if it stood in UTC. */
  readonly localOf: (timeMs: number) => number;
  readonly sites: readonly Site[];
  /** Units by site; those of none under null. */
  readonly unitsAt: ReadonlyMap<string | null, readonly string[]>;
}

/** The plan of a fleet that has a `notify`. */
export function planOf(fleet: Fleet, notify: Notify): Plan {
  const bySite = Map.groupBy(fleet.units, ({ site }) => site ?? null);
  return {
    ...notify,
    fleet: fleet.name,
    localOf: localClock(fleet.timezone),
    sites: fleet.sites,
    unitsAt: new Map([...bySite].map(([site, units]) => [site, units.map(({ id }) => id)])),
  };
}
