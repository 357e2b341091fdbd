import { npshAtGaugeM } from "../physics/npsh.ts";
import { velocityHeadM } from "../physics/pipe-flow.ts";
import { kpaPerMetre, kpaPerMetreAt, saturationPressureKpa } from "../physics/water.ts";
import type { FaultLevels } from "./fault.ts";
import { dutyFlowLpm } from "./hydraulics.ts";
import { settle } from "./plant-parts.ts";
import type { Plant, Surroundings } from "./plant-state.ts";
import type { Random } from "./random.ts";
import type { Skid } from "./skid.ts";

/** Bubbles form in the eye before the makers' NPSH required is reached: from this ratio on (common practice). */
const bubblesFromRatio = 1.6;
/** At this ratio cavitation is as bad as it gets. */
const fullCavitationRatio = 0.9;
const mostHeadLost = 0.3;

/** Draws the water up, and lets air in where the suction end, a union or a vortex lets it in. */
export function stepPrime(
  plant: Plant,
  skid: Skid,
  faults: FaultLevels,
  stepS: number,
  random: Random,
): void {
  if (!plant.running) {
    plant.column = settle(plant.column, 0, stepS, skid.suction.checkValve ? 4 * 3600 : 20);
    return;
  }
  const drawn = 0.25 * faults["suction-leak"];
  const air = Math.max(faults["suction-uncovered"], faults["flow-switch-stuck"], drawn);
  const bound = air > 0.5;
  if (faults["suction-union-open"] > 0 && plant.prime < 0.5) {
    plant.column = settle(plant.column, 0.15, stepS, 25);
  } else if (bound && !skid.suction.checkValve) plant.column = settle(plant.column, 0.06, stepS, 25);
  else if (bound) plant.column = settle(plant.column, 0.9, stepS, 3600);
  else plant.column = Math.min(1, plant.column + stepS / Math.max(plant.primingS, 10));
  const water = plant.column >= 0.88 || plant.prime > 0.5 ? Math.max(0, 1 - air) : 0;
  const wavering = air > 0 && air < 0.9 ? random.between(0.7, 1.1) : 1;
  plant.prime = settle(plant.prime, Math.min(1, water * wavering), stepS, 6);
}

/**
 * Pressures and flow where the head curve meets the friction: from a pond and back to it, so that the net
 * static head is zero.
 */
export function stepHydraulics(
  plant: Plant,
  skid: Skid,
  around: Surroundings,
  faults: FaultLevels,
  stepS: number,
  random: Random,
): void {
  const { suction, discharge, pump } = skid;
  const liftM = suction.liftM + (around.drawDownM ?? 0);
  const suctionResistance = suction.resistance * suctionGrowth(faults);
  const dischargeResistance =
    discharge.resistance * (1 + 3 * faults["generator-blocked"]) * (1 - 0.9 * faults["line-parted"]);
  const lostInEye = plant.cavitating > 0 ? mostHeadLost * plant.cavitating * random.between(0.7, 1.3) : 0;
  const impeller = (1 - 0.4 * faults["impeller-weeded"]) * (1 - lostInEye);
  const turning = plant.running && faults["rotor-locked"] === 0;
  const head = pump.shutoffHeadM * around.headRatio * impeller * plant.prime * plant.prime;
  const duty = turning ? dutyFlowLpm(head, pump.slope, suctionResistance + dischargeResistance) : 0;
  plant.flowLpm = Math.min(duty, mostFlowLpm(skid, around, liftM, suctionResistance));
  const square = plant.flowLpm * plant.flowLpm;
  plant.suctionKpa = -kpaPerMetre * (liftM * plant.column + suctionResistance * square);
  if (turning && duty > plant.flowLpm) {
    // The eye boils: no deeper vacuum can be drawn.
    plant.suctionKpa = saturationPressureKpa(around.waterC) - skid.atmosphericKpa;
  }
  // The discharge falls back to the pond's level, so a full line gives the lift back.
  const pressure = kpaPerMetre * (dischargeResistance * square - liftM * plant.prime);
  const standing = turning ? 1.2 * (1 - plant.prime) : 0;
  plant.dischargeKpa = turning ? Math.max(pressure, 0) + standing : settle(plant.dischargeKpa, 0, stepS, 8);
  plant.cavitating = settle(plant.cavitating, turning ? cavitation(plant, skid, around) : 0, stepS, 4);
}

function suctionGrowth(faults: FaultLevels): number {
  return (
    1 + 9 * faults["strainer-clogged"] + 49 * faults["suction-blocked"] + 4000 * faults["foot-valve-shut"]
  );
}

/** The flow that all of the air's pressure can push through the suction line, L/min. */
function mostFlowLpm(skid: Skid, around: Surroundings, liftM: number, resistance: number): number {
  const headM = (skid.atmosphericKpa - saturationPressureKpa(around.waterC)) / kpaPerMetreAt(around.waterC);
  return Math.sqrt(Math.max(headM - liftM, 0) / resistance);
}

/** How badly the water boils in the eye, 0..1; the NPSH that a pump requires grows with the square of its flow. */
function cavitation(plant: Plant, skid: Skid, around: Surroundings): number {
  const share = plant.flowLpm / skid.pump.dutyFlowLpm;
  // Little water takes little NPSH, but recirculates; a tenth of the required head stays (common practice).
  const required = skid.pump.npshRequiredM * Math.max(share * share, 0.1);
  const available = npshAtGaugeM(plant.suctionKpa, {
    atmosphericKpa: skid.atmosphericKpa,
    temperatureC: around.waterC,
    velocityHeadM: velocityHeadM(plant.flowLpm, skid.suction.boreM),
    gaugeHeightM: 0,
  });
  const ratio = available / required;
  return Math.min(Math.max((bubblesFromRatio - ratio) / (bubblesFromRatio - fullCavitationRatio), 0), 1);
}
