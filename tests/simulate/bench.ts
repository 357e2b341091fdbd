import type { Fault } from "../../src/simulate/fault.ts";
import { faultLevels } from "../../src/simulate/fault.ts";
import type { FaultKind } from "../../src/simulate/fault-kinds.ts";
import { stepPlant } from "../../src/simulate/plant.ts";
import { type Plant, type Surroundings, stoppedPlant } from "../../src/simulate/plant-state.ts";
import { randomFrom } from "../../src/simulate/random.ts";
import { buildSkid, type Skid, type SkidPlan } from "../../src/simulate/skid.ts";

/** A skid on a test bench: 20 °C air, 18 °C water, nothing wandering. */
export interface Bench {
  readonly skid: Skid;
  readonly plant: Plant;
  /** Runs or rests for some seconds, and gives the plant. */
  run(seconds: number, wanted?: boolean): Plant;
  fault(kind: FaultKind, severity?: number, courseMs?: number): void;
  mend(): void;
}

export function bench(change: Partial<SkidPlan> = {}, air = 20): Bench {
  const skid = buildSkid({
    horsepower: 0.75,
    voltageV: 115,
    unloadedShare: 0.75,
    liftM: 1.2,
    suctionLengthM: 4.5,
    boreM: 0.0409,
    checkValve: false,
    injectorKpa: 24,
    ozone: { fitted: true, lagS: 20, follows: "water" },
    ...change,
  });
  const plant = stoppedPlant(0, air);
  const random = randomFrom(3);
  let faults: Fault[] = [];
  const still: Omit<Surroundings, "wanted"> = { airC: air, waterC: 18, voltageRatio: 1, headRatio: 1 };
  return {
    skid,
    plant,
    run(seconds, wanted = true) {
      for (let i = 0; i < seconds; i += 5) {
        stepPlant(plant, skid, { ...still, wanted }, faultLevels(faults, plant.timeMs), 5, random);
      }
      return { ...plant };
    },
    fault(kind, severity = 1, courseMs = 0) {
      faults.push({ kind, fromMs: plant.timeMs, severity, courseMs });
    },
    mend() {
      faults = [];
    },
  };
}

export const hours = 3600;
