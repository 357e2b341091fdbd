import type { FaultLevels } from "./fault.ts";
import { dutyFlowLpm, kpaPerMetre } from "./hydraulics.ts";
import { motorCurrentA, motorLossW } from "./motor.ts";
import { settle, stepGas, stepOzone, stepTemperatures } from "./plant-parts.ts";
import type { Plant, Surroundings } from "./plant-state.ts";
import type { Random } from "./random.ts";
import type { Skid } from "./skid.ts";

/** Moves the skid on by `stepS` seconds; steps of 5 s or less resolve a start. */
export function stepPlant(
  plant: Plant,
  skid: Skid,
  around: Surroundings,
  faults: FaultLevels,
  stepS: number,
  random: Random,
): void {
  plant.timeMs += stepS * 1000;
  const powered = faults["supply lost"] === 0 && faults["protector tripped"] === 0;
  startOrStop(plant, skid, around.wanted && powered, stepS, random);
  stepPrime(plant, skid, faults["air in the suction"], stepS, random);
  stepHydraulics(plant, skid, around, faults, stepS);
  plant.currentA = plant.running
    ? motorCurrentA(skid.motor, shaftPowerW(plant, skid) / skid.motor.ratedPowerW, around.voltageRatio)
    : 0;
  const lossW = plant.running ? motorLossW(skid.motor, plant.currentA) : 0;
  stepTemperatures(plant, skid, around, faults["cooling blocked"], lossW, stepS);
  stepGas(plant, skid, faults["gas line fouled"], stepS);
  stepOzone(plant, skid, faults, stepS);
}

/** Shaft power, W: it rises evenly with flow (radial impeller), and falls to churning when air fills the casing. */
export function shaftPowerW(plant: Plant, skid: Skid): number {
  const { shutoffPowerW, dutyPowerW, dryPowerW } = skid.pump;
  const wet = shutoffPowerW + ((dutyPowerW - shutoffPowerW) * plant.flowLpm) / skid.pump.dutyFlowLpm;
  return plant.prime * wet + (1 - plant.prime) * dryPowerW;
}

function startOrStop(plant: Plant, skid: Skid, run: boolean, stepS: number, random: Random): void {
  if (run && !plant.running) {
    plant.sinceStartS = 0;
    plant.prime = 0;
    const held = skid.suction.checkValve && plant.column > 0.5;
    plant.primingS = held ? random.between(10, 25) : random.between(40, 110);
    if (held) plant.column = 0.6;
  }
  plant.running = run;
  if (run) plant.sinceStartS += stepS;
}

function stepPrime(plant: Plant, skid: Skid, air: number, stepS: number, random: Random): void {
  if (!plant.running) {
    plant.column = settle(plant.column, 0, stepS, skid.suction.checkValve ? 4 * 3600 : 20);
    return;
  }
  const bound = air > 0.5;
  if (bound && !skid.suction.checkValve) plant.column = settle(plant.column, 0.06, stepS, 25);
  else if (bound) plant.column = settle(plant.column, 0.9, stepS, 3600);
  else plant.column = Math.min(1, plant.column + stepS / Math.max(plant.primingS, 10));
  const water = plant.column >= 0.88 || plant.prime > 0.5 ? Math.max(0, 1 - air) : 0;
  const wavering = air > 0 && air < 0.9 ? random.between(0.7, 1.1) : 1;
  plant.prime = settle(plant.prime, Math.min(1, water * wavering), stepS, 6);
}

function stepHydraulics(
  plant: Plant,
  skid: Skid,
  around: Surroundings,
  faults: FaultLevels,
  stepS: number,
): void {
  const { suction, discharge, pump } = skid;
  const clogging = 1 + 9 * faults["strainer clogged"] + 4 * faults.cavitation;
  const suctionResistance = suction.resistance * clogging;
  const head =
    pump.shutoffHeadM * around.headRatio * (1 - 0.15 * faults.cavitation) * plant.prime * plant.prime;
  plant.flowLpm = plant.running ? dutyFlowLpm(head, pump.slope, suctionResistance + discharge.resistance) : 0;
  const square = plant.flowLpm * plant.flowLpm;
  const column = suction.liftM * plant.column;
  plant.suctionKpa = -kpaPerMetre * (column + suctionResistance * square);
  // The discharge falls back to the pond's level, so a full line gives the lift back.
  const pressure = kpaPerMetre * (discharge.resistance * square - suction.liftM * plant.prime);
  const standing = plant.running ? 1.2 * (1 - plant.prime) : 0;
  plant.dischargeKpa = plant.running
    ? Math.max(pressure, 0) + standing
    : settle(plant.dischargeKpa, 0, stepS, 8);
}
