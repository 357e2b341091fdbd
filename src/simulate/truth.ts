import type { AlarmName } from "../terms/alarms.ts";
import type { Fault } from "./fault.ts";
import { type FaultKind, faultKinds } from "./fault-kinds.ts";
import type { InventedUnit } from "./invented-unit.ts";
import type { Plant } from "./plant-state.ts";

/** A fault as a log shows it: from the first reading at which it acts until it is mended. */
export interface TrueFault {
  readonly kind: FaultKind;
  /** The alarms that it is true of: mostly one. */
  readonly alarms: readonly AlarmName[];
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

/** Water boils in the eye from this level on; so many readings of it are cavitation. */
const boils = 0.2;
const boilsFor = 10;

/** Watches a unit's plant for the first moment at which each of its faults acts. */
export function startTruth({ faults, sharedOutlet }: Pick<InventedUnit, "faults" | "sharedOutlet">) {
  const startMs = new Map<Fault, number>();
  const boiling = new Map<Fault, number>();
  const foundStopped = new Set<Fault>();
  const seen = new Set<Fault>();
  // A logger that goes dark with the pump shows a lost supply at once, and by its silence alone.
  const darkens = (kind: FaultKind) => kind === "supply-lost" && sharedOutlet;
  return {
    /** One reading: its time, the skid then, and whether it was let run. */
    see(timeMs: number, plant: Plant, wanted: boolean): void {
      for (const fault of faults) {
        if (timeMs >= fault.fromMs && !seen.has(fault)) {
          seen.add(fault);
          if (!plant.running) foundStopped.add(fault);
        }
        if (timeMs < fault.fromMs || timeMs >= (fault.toMs ?? Infinity)) continue;
        if (fault.kind === "suction-blocked" && plant.cavitating > boils) {
          boiling.set(fault, (boiling.get(fault) ?? 0) + 1);
        }
        if (startMs.has(fault)) continue;
        if (darkens(fault.kind) || (acts[fault.kind] ?? running)(plant, wanted)) startMs.set(fault, timeMs);
      }
    },
    /** What the log that ends at `endMs` shows, oldest first. */
    told(endMs: number): TrueFault[] {
      return [...startMs]
        .map(([fault, start]) => {
          const { kind, toMs } = fault;
          const own = darkens(kind) ? "readings-stale" : faultKinds[kind].alarm;
          const alarms = [...(alsoTrue[kind] ?? []), own].map((alarm): AlarmName => {
            // A pump that stood when its suction came out of the water has no prime to lose.
            if (alarm === "lost-prime" && foundStopped.has(fault)) return "failed-to-prime";
            // What only narrows the suction does not make the water boil.
            return alarm === "cavitation" && (boiling.get(fault) ?? 0) < boilsFor
              ? "suction-restricted"
              : alarm;
          });
          return { kind, alarms, startMs: start, endMs: toMs ?? endMs };
        })
        .sort((a, b) => a.startMs - b.startMs);
    },
  };
}
