import { motorCurrentA } from "../physics/motor-current.ts";
import { power } from "../physics/power.ts";
import type { FaultLevels } from "./fault.ts";
import { motorLossW, stepProtector } from "./motor.ts";
import { stepHydraulics, stepPrime } from "./plant-hydraulics.ts";
import { stepGas, stepOzone, stepTemperatures } from "./plant-parts.ts";
import type { Plant, Surroundings } from "./plant-state.ts";
import type { Random } from "./random.ts";
import type { Skid } from "./skid.ts";

/** Starting current as a multiple of full load: common practice is six or more; small motors a little less. */
const startingCurrent = 5.5;

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
  const powered = faults["supply-lost"] === 0 && faults["protector-tripped"] === 0;
  stepProtector(plant, faults["protector-cycling"] > 0, stepS);
  const chatters = faults["relay-chattering"] > 0 && restsAt(plant.timeMs, faults["relay-chattering"]);
  startOrStop(plant, skid, around.wanted && powered && !plant.protectorOpen && !chatters, stepS, random);
  stepPrime(plant, skid, faults, stepS, random);
  stepHydraulics(plant, skid, around, faults, stepS, random);
  const voltageRatio = around.voltageRatio * (1 - 0.3 * faults["voltage-low"]);
  plant.currentA = plant.running ? currentA(plant, skid, faults, voltageRatio) : 0;
  const lossW = plant.running ? motorLossW(skid.motor, plant.currentA) : 0;
  stepTemperatures(plant, skid, around, faults["cooling-blocked"], lossW, stepS);
  stepGas(plant, skid, around, faults, stepS);
  stepOzone(plant, skid, faults, stepS);
}

function currentA(plant: Plant, skid: Skid, faults: FaultLevels, voltageRatio: number): number {
  if (faults["rotor-locked"] > 0) return startingCurrent * skid.motor.fullLoadCurrentA * voltageRatio;
  const drag = 1 + faults["bearing-seizing"] + 0.33 * faults["bearing-worn"];
  const load = (drag * shaftPowerW(plant, skid)) / skid.motor.ratedPowerW;
  // A sagging supply lets the rotor slip and waste more: the working current grows faster than 1/voltage (house choice).
  const slipping = voltageRatio < 0.95 ? power(voltageRatio, -0.7) : 1;
  return motorCurrentA(skid.motor, load * slipping, voltageRatio);
}

/** A relay that chatters at 8 to 16 starts an hour rests two fifths of each turn. */
function restsAt(timeMs: number, severity: number): boolean {
  const turnMs = 3_600_000 / (8 + 8 * severity);
  return timeMs % turnMs > 0.6 * turnMs;
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
