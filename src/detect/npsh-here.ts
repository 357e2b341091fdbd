import type { Unit } from "../fleet/unit.ts";
import { atmosphericPressureKpa } from "../physics/atmosphere.ts";
import { npshAtGaugeM } from "../physics/npsh.ts";

/** Water of a pond in summer, where its temperature is not measured, °C (house choice: the higher the sooner vapour forms). */
const pondC = 25;

/**
 * NPSH available at a unit's suction gauge, m, without the velocity head (about 0.1 m): from kPa gauge, a vacuum
 * negative, and the water's temperature in °C, NaN where unknown. NaN where the site's elevation is not known.
 */
export function npshHereM({ elevationM }: Unit, suctionKpa: number, waterC: number): number {
  if (elevationM === undefined) return Number.NaN;
  return npshAtGaugeM(suctionKpa, {
    atmosphericKpa: atmosphericPressureKpa(elevationM),
    temperatureC: Number.isNaN(waterC) ? pondC : waterC,
    velocityHeadM: 0,
    gaugeHeightM: 0,
  });
}
