import type { Fleet } from "../fleet/unit.ts";
import type { AlarmEvent } from "../terms/events.ts";
import type { Change } from "./change.ts";
import type { CollectorOptions } from "./collector.ts";
import type { FleetView, UnitHistory } from "./fleet-view.ts";
import type { KeepOptions, Said } from "./keeping.ts";

/** What the worker is started with; without `keep` nothing is kept. */
export interface WorkerStart extends CollectorOptions {
  readonly keep?: KeepOptions;
  /** Nobody sees the fleet yet: a screenful is shown before the other units are taken up. */
  readonly unseen?: boolean;
}

/** The first message to a worker. */
export interface StartWorker {
  readonly kind: "start";
  readonly start: WorkerStart;
}

export type ToWorker =
  | {
      readonly kind: "history";
      readonly request: number;
      readonly unit: string;
      readonly fromMs: number;
      readonly toMs: number;
      readonly points: number;
      /** By the logs, as far as they are still there. */
      readonly finely?: true;
    }
  /** What a person says: kept, in order, up to the first that is refused. */
  | { readonly kind: "say"; readonly request: number; readonly said: readonly Said[] }
  /** Goes on with another fleet file: what it does not change goes on as it was. */
  | { readonly kind: "fleet"; readonly fleet: Fleet }
  /** From a process that is to collect unattended: a console that collects lets the state folder go. */
  | { readonly kind: "hand-over" }
  | { readonly kind: "close" };

export type FromWorker =
  | { readonly kind: "view"; readonly view: FleetView }
  /** What has become of the view that was sent last. */
  | { readonly kind: "change"; readonly change: Change }
  | {
      readonly kind: "history";
      readonly request: number;
      readonly history: UnitHistory | undefined;
      readonly overtaken?: true;
    }
  | { readonly kind: "said"; readonly request: number; readonly problem: string | null }
  /** A change of an alarm, once it is kept. */
  | { readonly kind: "event"; readonly event: AlarmEvent }
  /** Another process collects on the state folder: this thread does nothing, and ends. */
  | { readonly kind: "taken" }
  /** Nothing can be kept, and so this thread does nothing, and ends. */
  | { readonly kind: "unkept"; readonly problem: string }
  /** The state folder is being let go for a process that collects unattended. */
  | { readonly kind: "handed-over" };
