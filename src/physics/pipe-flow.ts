import { gravityMS2 } from "./constants.ts";

/** Mean velocity, m/s, of a flow in L/min through a round bore in m. */
export function flowVelocityMS(flowLpm: number, boreM: number): number {
  return flowLpm / 60_000 / ((Math.PI / 4) * boreM * boreM);
}

/** Velocity head v²/2g, m, of a flow in L/min through a round bore in m. */
export function velocityHeadM(flowLpm: number, boreM: number): number {
  const velocity = flowVelocityMS(flowLpm, boreM);
  return (velocity * velocity) / (2 * gravityMS2);
}

/** Reynolds number v D / ν: velocity in m/s, bore in m, kinematic viscosity in m²/s. */
export function reynoldsNumber(velocityMS: number, boreM: number, viscosityM2S: number): number {
  return (velocityMS * boreM) / viscosityM2S;
}
