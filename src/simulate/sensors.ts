import type { Channel, OzoneState } from "../terms/channels.ts";
import type { FaultLevels } from "./fault.ts";
import type { Plant, Surroundings } from "./plant-state.ts";
import type { Random } from "./random.ts";
import type { Skid } from "./skid.ts";

/** One reading of a skid's instruments, in stored units. */
export interface Sample {
  readonly timeMs: number;
  readonly values: Readonly<Partial<Record<Channel, number | OzoneState>>>;
}

/** A skid's instruments: where the motor's temperature is taken, and how far pressures have drifted. */
export interface Instruments {
  readonly temperatureAt: "shell" | "winding";
  readonly driftKpa: Readonly<Partial<Record<Channel, number>>>;
}

/** Reads the instruments of a skid: noise, pump pulsation and the instruments' resolution included. */
export function readInstruments(
  plant: Plant,
  skid: Skid,
  { temperatureAt, driftKpa }: Instruments,
  around: Surroundings,
  faults: FaultLevels,
  random: Random,
): Sample {
  const rough = 1 + 7 * plant.cavitating;
  const full = skid.motor.fullLoadCurrentA;
  const current = plant.running
    ? plant.currentA + 0.0035 * full * rough * random.normal()
    : Math.abs(0.008 * random.normal());
  const pulsation = plant.running ? (0.25 + 0.7 * plant.prime) * rough : 0.15;
  const measuredC = temperatureAt === "shell" ? plant.shellC : plant.windingC;
  const pressure = (channel: Channel, kpa: number, noiseKpa: number) =>
    round(kpa + (driftKpa[channel] ?? 0) + noiseKpa * random.normal(), 10);
  return {
    timeMs: plant.timeMs,
    values: {
      motor_current: round(Math.max(current, 0), 100),
      motor_temperature: round(measuredC + 0.07 * random.normal(), 10),
      suction_pressure: pressure("suction_pressure", plant.suctionKpa, plant.running ? 0.25 * rough : 0.1),
      discharge_pressure: pressure("discharge_pressure", plant.dischargeKpa, pulsation),
      gas_pressure: pressure("gas_pressure", plant.gasKpa, plant.running ? 0.35 : 0.1),
      ozone: ozoneState(plant, skid, faults),
      ambient_temperature: round(around.airC + 0.1 * random.normal(), 10),
      water_temperature: round(around.waterC + 0.05 * random.normal(), 10),
      voltage: round(supplyV(skid, around, faults) + 0.15 * random.normal(), 10),
      run_command: around.wanted ? 1 : 0,
      flow: round(plant.flowLpm, 10),
      gas_flow: round(plant.gasFlowLpm, 100),
      power: round(inputPowerW(plant, skid, around), 1),
      water_level: round(2 - (around.drawDownM ?? 0), 100),
      ozone_in_air: round(plant.ozonePpm, 1000),
    },
  };
}

function supplyV(skid: Skid, around: Surroundings, faults: FaultLevels): number {
  return faults["supply-lost"] > 0
    ? 0
    : skid.motor.voltageV * around.voltageRatio * (1 - 0.3 * faults["voltage-low"]);
}

/** Input power of a motor: what its shaft gives and what it loses. */
function inputPowerW(plant: Plant, skid: Skid, around: Surroundings): number {
  if (!plant.running) return 0;
  const { voltageV, unloadedShare, fullLoadCurrentA } = skid.motor;
  const magnetisingA = fullLoadCurrentA * unloadedShare * around.voltageRatio;
  const workingA = Math.sqrt(Math.max(plant.currentA * plant.currentA - magnetisingA * magnetisingA, 0));
  return voltageV * around.voltageRatio * workingA;
}

function ozoneState(plant: Plant, skid: Skid, faults: FaultLevels): OzoneState {
  if (skid.ozone.fitted && faults["ozone-cell-fault"] > 0 && plant.running) return "fault";
  return plant.ozoneOn ? "on" : "off";
}

/** `x` to the nearest 1/`perUnit`; never −0. */
function round(x: number, perUnit: number): number {
  return Math.round(x * perUnit) / perUnit + 0;
}
