import type { Priority } from "../terms/alarms.ts";
import { type Lives, type Stood, stretch } from "./lives.ts";
import type { AlarmResponse } from "./response.ts";

/** How a fleet's alarms stand where their lives have come to. */
export interface Standing {
  /** Active before people, with how each is to be answered. */
  readonly alarms: readonly (Stood & { readonly priority: Priority; readonly acknowledged: boolean })[];
  /** Alarms set aside, whether or not their condition is active. */
  readonly shelved: number;
  readonly outOfService: number;
  readonly suppressed: number;
}

/** What stands at `atMs`, up to which all has been told. */
export function standingAt(lives: Lives, atMs: number): Standing {
  const tracks = [...lives.tracks.values()];
  const count = (is: (response: AlarmResponse) => boolean) =>
    tracks.filter(({ response }) => is(response)).length;
  return {
    alarms: tracks.flatMap((track) =>
      stretch(track, atMs, Number.NEGATIVE_INFINITY).map((stood) => ({
        ...stood,
        priority: track.response.priority,
        acknowledged: track.response.acknowledged !== null,
      })),
    ),
    shelved: count(({ shelved, outOfService }) => shelved !== null && outOfService === null),
    outOfService: count(({ outOfService }) => outOfService !== null),
    suppressed: count(({ suppressed }) => suppressed),
  };
}
