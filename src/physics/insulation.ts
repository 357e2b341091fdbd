import { power } from "./power.ts";

/** Total winding temperature by insulation class, °C, on a 40 °C ambient (NEMA MG 1, 12.42/12.43). */
export const windingLimitC = { A: 105, B: 130, F: 155, H: 180 } as const;

export type InsulationClass = keyof typeof windingLimitC;

const windingRiseK = {
  A: { plain: 60, withServiceFactor: 70 },
  B: { plain: 80, withServiceFactor: 90 },
  F: { plain: 105, withServiceFactor: 115 },
  H: { plain: 125, withServiceFactor: undefined },
} as const;

/**
 * Most that a winding may rise over a 40 °C ambient, K, measured by resistance; undefined for class H with a service
 * factor of 1.15 or more. What is left up to `windingLimitC` is the allowance for its hottest spot.
 *
 * Source: NEMA MG 1, 12.42/12.43.
 */
export function windingRiseLimitK(insulation: InsulationClass, serviceFactor: number): number | undefined {
  return windingRiseK[insulation][serviceFactor >= 1.15 ? "withServiceFactor" : "plain"];
}

/**
 * Insulation life as a share of that at the limit, both temperatures at the winding in °C: halved by every 10 K more.
 *
 * A rule of thumb (common practice). A shell is cooler than its winding and must not be put in here.
 */
export function insulationLifeShare(windingC: number, limitC: number): number {
  return power(2, (limitC - windingC) / 10);
}
