import { flowVelocityMS, reynoldsNumber, velocityHeadM } from "./pipe-flow.ts";
import { power } from "./power.ts";
import { kinematicViscosityM2S } from "./water.ts";

/** Roughness of drawn plastic pipe, m (common practice). */
export const plasticRoughnessM = 1.5e-6;

/** Flow is laminar below this Reynolds number (common practice). */
const laminarBelow = 2300;

/**
 * Darcy friction factor of a flow by its Reynolds number and the pipe's roughness as a share of its bore.
 *
 * Laminar: 64/Re. From Re 2300 up: Swamee–Jain, fitted for 5 × 10³ ≤ Re ≤ 10⁸ and 10⁻⁶ ≤ e/D ≤ 10⁻²; between
 * 2300 and 5000 it stands for the higher loss. Source: P. K. Swamee, A. K. Jain, J. Hydraul. Div. ASCE 102 (1976) 657
 * (citation from memory).
 */
export function frictionFactor(reynolds: number, relativeRoughness: number): number {
  if (reynolds < laminarBelow) return 64 / reynolds;
  const logarithm = Math.log(relativeRoughness / 3.7 + 5.74 / power(reynolds, 0.9)) / Math.LN10;
  return 0.25 / (logarithm * logarithm);
}

/**
 * Friction head of water in a straight pipe by Darcy–Weisbach, m: h = f (L/D) v²/2g.
 *
 * Flow in L/min, length, bore and roughness in m, temperature in °C.
 */
export function darcyWeisbachHeadM(
  flowLpm: number,
  lengthM: number,
  boreM: number,
  temperatureC: number,
  roughnessM = plasticRoughnessM,
): number {
  if (flowLpm <= 0) return 0;
  const viscosity = kinematicViscosityM2S(temperatureC);
  const reynolds = reynoldsNumber(flowVelocityMS(flowLpm, boreM), boreM, viscosity);
  return frictionFactor(reynolds, roughnessM / boreM) * (lengthM / boreM) * velocityHeadM(flowLpm, boreM);
}

/**
 * Friction head of water in a straight pipe by Hazen–Williams, m; for turbulent flow near room temperature.
 *
 * Flow in L/min, length and bore in m, roughness coefficient C: 150 for PVC.
 * Source: SI form 10.67 L Q^1.852 / (C^1.852 D^4.8704).
 */
export function hazenWilliamsHeadM(
  flowLpm: number,
  lengthM: number,
  boreM: number,
  coefficient = 150,
): number {
  if (flowLpm <= 0) return 0;
  const flow = flowLpm / 60_000;
  return 10.67 * lengthM * power(flow / coefficient, 1.852) * power(boreM, -4.8704);
}
