import type { CollectorOptions } from "./collector.ts";
import type { FleetView, UnitHistory } from "./fleet-view.ts";

/** What the worker is started with. */
export type WorkerStart = CollectorOptions;

export type ToWorker =
  | {
      readonly kind: "history";
      readonly request: number;
      readonly unit: string;
      readonly fromMs: number;
      readonly toMs: number;
      readonly points: number;
    }
  | { readonly kind: "close" };

export type FromWorker =
  | { readonly kind: "view"; readonly view: FleetView }
  | { readonly kind: "history"; readonly request: number; readonly history: UnitHistory | undefined };
