import { withLapses } from "../fleet/services.ts";
import type { Fleet } from "../fleet/unit.ts";
import { changesOf } from "../store/events.ts";
import type { Following } from "./following.ts";
import type { Keeping } from "./keeping.ts";
import type { PastOf } from "./past.ts";

/** What the past of a unit that is followed is drawn from: what is kept, and what has come since. */
export function followedPast(
  { player: { state }, log, recent, summing }: Following,
  fleet: Fleet,
  keeping: Keeping | undefined,
): PastOf {
  const { id } = state.unit;
  const said = keeping?.servicesAfter(0) ?? [];
  return {
    unit: id,
    state,
    log,
    recent,
    ...(keeping && { summing, db: keeping.db }),
    // Where the events cannot be read now, those since the start are known.
    events: (keeping && changesOf(keeping.db, id).value) ?? recent.events,
    services: withLapses([...fleet.services, ...said].filter(({ unit }) => unit === id)),
  };
}
