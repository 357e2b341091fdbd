/** A suction pipe full of air that rises evenly, and what the pump makes of it. */
export interface Priming {
  /** Air in the pipe, L, at the pressure of the surroundings. */
  readonly volumeL: number;
  readonly liftM: number;
  /** The surrounding air as a head of water, m. */
  readonly airHeadM: number;
  /** Air that the pump takes in without lift, L/min at the pressure in the pipe. */
  readonly airLpm: number;
  /** Lift at which it takes in no more air, m. */
  readonly highestLiftM: number;
}

const steps = 400;

/**
 * Time to draw water up a suction pipe, min; infinite from the highest lift on.
 *
 * The air expands as the water rises: S dt = −d(pV)/p, with V and p falling evenly along the pipe. S falls in
 * proportion to the lift reached. With S constant it is V [2 − (r − 1) ln(r/(r − 1))]/S, r = air head / lift.
 */
export function primingTimeMin({ volumeL, liftM, airHeadM, airLpm, highestLiftM }: Priming): number {
  if (liftM <= 0) return 0;
  if (liftM >= highestLiftM) return Number.POSITIVE_INFINITY;
  let minutes = 0;
  for (let step = 0; step < steps; step++) {
    const risen = (step + 0.5) / steps;
    const drawn = 1 + ((1 - risen) * liftM) / (airHeadM - risen * liftM);
    minutes += (volumeL * drawn) / steps / (airLpm * (1 - (risen * liftM) / highestLiftM));
  }
  return minutes;
}
