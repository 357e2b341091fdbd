/** Where a pump works: flow in L/min, head in m, shaft power in W. */
export interface Duty {
  readonly flowLpm: number;
  readonly headM: number;
  readonly powerW: number;
}

/**
 * The duty of the same impeller in the same liquid at another speed, given as a share of the first.
 *
 * Flow follows the speed, head its square, power its cube. The laws say nothing of NPSH required, and a pump
 * against static head does not keep to them. Source: DOE-HDBK-1012/3-92, Fluid Flow, "Pump Laws".
 */
export function dutyAtSpeed({ flowLpm, headM, powerW }: Duty, speedRatio: number): Duty {
  const square = speedRatio * speedRatio;
  return { flowLpm: flowLpm * speedRatio, headM: headM * square, powerW: powerW * square * speedRatio };
}
