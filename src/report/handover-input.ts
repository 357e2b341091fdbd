import type { Heard } from "../assess/heard.ts";
import type { FleetView } from "../collector/fleet-view.ts";
import type { ServiceRecord } from "../fleet/unit.ts";
import type { Episode } from "./episodes.ts";

/** A service as it is on record; what the fleet file has was said at no time of its own. */
export interface OnRecord extends ServiceRecord {
  readonly saidMs?: number;
}

/** All that a handover rests on. */
export interface HandoverInput {
  readonly view: FleetView;
  /** Where it begins; it ends at the view's clock. */
  readonly sinceMs: number;
  /** Place of each unit's newest event that the last handover knew of: what came late is new, whatever its time. */
  readonly seen: ReadonlyMap<string, number> | null;
  /** Of all the time that is kept, in order of their begin. */
  readonly episodes: readonly Episode[];
  /** What people said of alarms, and shelvings that ended by their time, since then. */
  readonly heard: readonly Heard[];
  /** In order of time, with lapses. */
  readonly services: readonly OnRecord[];
}
