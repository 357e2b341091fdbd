import type { FleetView, UnitHistory } from "../collector/fleet-view.ts";
import type { ReplayRequest, ReplaySpeed } from "../collector/replay-view.ts";
import type { RecordingStart } from "./recording.ts";

/** What the thread of a replay is started with. */
export interface ReplayStart extends RecordingStart {
  readonly speed: ReplaySpeed;
}

export type ToReplay =
  | { readonly kind: "replay"; readonly request: ReplayRequest }
  | {
      readonly kind: "history";
      readonly request: number;
      readonly unit: string;
      readonly fromMs: number;
      readonly toMs: number;
      readonly points: number;
    }
  | { readonly kind: "close" };

export type FromReplay =
  | { readonly kind: "view"; readonly view: FleetView }
  | { readonly kind: "history"; readonly request: number; readonly history: UnitHistory | undefined };
