import type { AlarmName } from "../terms/alarms.ts";
import type { Fault } from "./fault.ts";
import { type FaultKind, faultKinds } from "./fault-kinds.ts";
import type { InventedUnit } from "./invented-unit.ts";
import type { Plant } from "./plant-state.ts";

/** A fault as a log shows it: from the first reading at which it acts until it is mended. */
export interface TrueFault {
  readonly kind: FaultKind;
  readonly alarm: AlarmName;
  readonly startMs: number;
  readonly endMs: number;
}

const running = ({ running }: Plant) => running;
const ozoneOn = ({ ozoneOn }: Plant) => ozoneOn;

/** When a fault acts at all; one that is not named acts while the pump runs. */
const acts: Readonly<Partial<Record<FaultKind, (plant: Plant, wanted: boolean) => boolean>>> = {
  "suction-union-open": ({ running, prime }) => running && prime < 0.5,
  "protector-tripped": (_plant, wanted) => wanted,
  "supply-lost": (_plant, wanted) => wanted,
  "relay-chattering": (_plant, wanted) => wanted,
  "protector-cycling": (_plant, wanted) => wanted,
  "ozone-cell-off": ({ running, prime }) => running && prime > 0.5,
  "ozone-cell-fault": ({ running, prime }) => running && prime > 0.5,
  "ozone-relay-welded": ({ running, ozoneOn }) => !running && ozoneOn,
  "flow-switch-stuck": ({ running, ozoneOn, prime }) => running && ozoneOn && prime < 0.5,
  "ozone-not-bypassed": ozoneOn,
  "ozone-leak": ({ ozonePpm }) => ozonePpm >= 0.1,
  "sensor-frozen": running,
  "sensor-off-scale": () => true,
  "sensor-jumping": () => true,
  "logger-silent": () => true,
  "clock-set-back": () => true,
  frost: ({ running, shellC }) => !running && shellC < 3,
};

/** What else is true of a fault: the ozone without water has no prime either, and who cycles stands still. */
const alsoTrue: Readonly<Partial<Record<FaultKind, readonly AlarmName[]>>> = {
  "flow-switch-stuck": ["lost-prime"],
  "relay-chattering": ["not-running"],
  "protector-cycling": ["not-running"],
};

/** Watches a unit's plant for the first moment at which each of its faults acts. */
export function startTruth({ faults, sharedOutlet }: Pick<InventedUnit, "faults" | "sharedOutlet">) {
  const startMs = new Map<Fault, number>();
  return {
    /** One reading: its time, the skid then, and whether it was let run. */
    see(timeMs: number, plant: Plant, wanted: boolean): void {
      for (const fault of faults) {
        if (startMs.has(fault) || timeMs < fault.fromMs || timeMs >= (fault.toMs ?? Infinity)) continue;
        if ((acts[fault.kind] ?? running)(plant, wanted)) startMs.set(fault, timeMs);
      }
    },
    /** What the log that ends at `endMs` shows, oldest first; some faults are true in two ways. */
    told(endMs: number): TrueFault[] {
      return [...startMs]
        .flatMap(([{ kind, toMs }, start]) => {
          // A logger that goes dark with the pump shows a lost supply by its silence alone.
          const own = kind === "supply-lost" && sharedOutlet ? "readings-stale" : faultKinds[kind].alarm;
          const alarms: AlarmName[] = [...(alsoTrue[kind] ?? []), own];
          return alarms.map((alarm) => ({ kind, alarm, startMs: start, endMs: toMs ?? endMs }));
        })
        .sort((a, b) => a.startMs - b.startMs);
    },
  };
}
