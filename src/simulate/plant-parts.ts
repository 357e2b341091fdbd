import type { FaultLevels } from "./fault.ts";
import type { Plant, Surroundings } from "./plant-state.ts";
import type { Skid } from "./skid.ts";

/** First-order approach to `target` over `stepS` with a time constant in seconds. */
export function settle(value: number, target: number, stepS: number, timeConstantS: number): number {
  return target + (value - target) * Math.exp(-stepS / timeConstantS);
}

/**
 * Shell, winding and pump casing.
 *
 * Moving water holds the casing at its own temperature; without it the churning heats the casing, and
 * through it the motor. A stopped motor has no fan and cools at half the rate (common practice).
 */
export function stepTemperatures(
  plant: Plant,
  skid: Skid,
  around: Pick<Surroundings, "airC" | "waterC">,
  blocked: number,
  lossW: number,
  stepS: number,
): void {
  const { thermal, motor, pump } = skid;
  if (plant.flowLpm > 0.2 * pump.dutyFlowLpm) {
    plant.casingC = settle(plant.casingC, around.waterC, stepS, 60);
  } else {
    const churningW = plant.running ? pump.dryPowerW : 0;
    const end = Math.min(around.airC + churningW / thermal.casingToAirWPerK, 99);
    plant.casingC = settle(plant.casingC, end, stepS, thermal.casingCapacityJPerK / thermal.casingToAirWPerK);
  }
  const toAir = (thermal.toAirWPerK * (plant.running ? 1 : 0.5)) / (1 + 9 * blocked);
  const total = toAir + thermal.toCasingWPerK;
  const end = (toAir * around.airC + thermal.toCasingWPerK * plant.casingC + lossW) / total;
  plant.shellC = settle(plant.shellC, end, stepS, thermal.capacityJPerK / total);
  const relative = plant.currentA / motor.fullLoadCurrentA;
  const rise = thermal.windingRiseK * relative * relative;
  plant.windingC = plant.shellC + settle(plant.windingC - plant.shellC, rise, stepS, 240);
}

/** The injector's loss is that of its size at this temperature. */
const gasC = 15;

/**
 * Gas pressure and flow; a line that got wet in a stop settles after the start. The line has the air's temperature:
 * warmer gas is thinner, and the same mass of it loses more in the injector.
 */
export function stepGas(
  plant: Plant,
  skid: Skid,
  { airC, cleaned }: Pick<Surroundings, "airC" | "cleaned">,
  faults: FaultLevels,
  stepS: number,
): void {
  const { feed, injectorKpa, lossPerK, foulingPerDay } = skid.gas;
  if (cleaned) plant.gasFouling = 0;
  if (!plant.running) {
    plant.gasKpa = settle(plant.gasKpa, 0, stepS, 60);
    plant.gasFlowLpm = 0;
    plant.gasLineWet = settle(plant.gasLineWet, 1, stepS, 300);
    return;
  }
  const scalingPerDay = (faults["gas-line-fouling"] * 0.1 * (plant.dischargeKpa + injectorKpa)) / injectorKpa;
  plant.gasFouling += ((foulingPerDay + scalingPerDay) * stepS) / 86_400;
  plant.gasLineWet = settle(plant.gasLineWet, 0, stepS, 75);
  const warm = 1 + lossPerK * (airC - gasC);
  const resistance = (1 + plant.gasFouling + 0.3 * plant.gasLineWet) * warm;
  const weak = 1 - faults["gas-feed-weak"];
  const stopped = faults["gas-feed-stopped"] > 0;
  // A regulator holds its pressure over the water's and the flow gives way; a constant flow does the reverse.
  const over = feed === "regulated" ? 1.15 * injectorKpa : injectorKpa * resistance;
  plant.gasKpa = settle(plant.gasKpa, stopped ? 0 : plant.dischargeKpa + over * weak, stepS, 15);
  const share = feed === "regulated" ? Math.sqrt((1.15 * weak) / resistance) : weak;
  plant.gasFlowLpm = settle(plant.gasFlowLpm, stopped ? 0 : skid.gas.flowLpm * share, stepS, 10);
}

/** The cell's relay: it follows the water (a flow switch) or only the motor, after a lag; off at once. */
export function stepOzone(plant: Plant, skid: Skid, faults: FaultLevels, stepS: number): void {
  const { follows, lagS } = skid.ozone;
  const fitted = skid.ozone.fitted || faults["ozone-not-bypassed"] > 0;
  const stuck = follows === "motor" || faults["flow-switch-stuck"] > 0;
  const flows = plant.prime > 0.5 && plant.flowLpm > 0.2 * skid.pump.dutyFlowLpm;
  const released = plant.running && (stuck || flows);
  plant.ozoneWaitS = released ? plant.ozoneWaitS + stepS : 0;
  const welded = faults["ozone-relay-welded"] > 0 && faults["supply-lost"] === 0;
  const failed = faults["ozone-cell-off"] > 0 || faults["ozone-cell-fault"] > 0;
  plant.ozoneOn = fitted && (welded || (plant.ozoneWaitS > lagS && !failed));
  plant.ozonePpm = settle(plant.ozonePpm, plant.ozoneOn ? 0.3 * faults["ozone-leak"] : 0, stepS, 90);
}
