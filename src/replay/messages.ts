import type { ToWorker } from "../collector/messages.ts";
import type { ReplayRequest, ReplaySpeed } from "../collector/replay-view.ts";
import type { RecordingStart } from "./recording.ts";

/** What the thread of a replay is started with. */
export interface ReplayStart extends RecordingStart {
  readonly speed: ReplaySpeed;
}

export type ToReplay = ToWorker | { readonly kind: "replay"; readonly request: ReplayRequest };
