import { frictionFactor } from "./friction.ts";
import { velocityHeadM } from "./pipe-flow.ts";

/** Roughness of the new commercial steel pipe for which the losses of fittings were measured, m. */
const steelRoughnessM = 46e-6;

/**
 * Loss of a fitting as a length of straight steel pipe in bores, L/D.
 *
 * Source: Crane Technical Paper 410, as college texts reprint it ("Representative equivalent length in pipe diameters");
 * the tees from memory.
 */
export const fittingLengths = {
  elbow: 30,
  long_elbow: 20,
  elbow_45: 16,
  tee_run: 20,
  tee_branch: 60,
  ball_valve: 3,
  gate_valve: 13,
  check_valve: 135,
  foot_valve: 420,
  hinged_foot_valve: 75,
} as const;

export type Fitting = keyof typeof fittingLengths;

/** Loss of a pipe's sharp-edged entrance and of its exit into still water, in velocity heads (Crane TP-410; from memory). */
export const entranceLoss = 0.5;
export const exitLoss = 1;

/**
 * Loss coefficient K of a fitting in velocity heads: K = (L/D) f_T, for a bore in m.
 *
 * f_T is the factor of fully turbulent flow in clean steel pipe of that bore, whatever the pipe is made of.
 * Source: Crane TP-410.
 */
export function fittingLoss(fitting: Fitting, boreM: number): number {
  return fittingLengths[fitting] * frictionFactor(Number.POSITIVE_INFINITY, steelRoughnessM / boreM);
}

/** Head lost in fittings, m: h = K v²/2g. Flow in L/min, bore in m, K in velocity heads. */
export function lossHeadM(coefficient: number, flowLpm: number, boreM: number): number {
  return coefficient * velocityHeadM(flowLpm, boreM);
}
