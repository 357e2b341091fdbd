/**
 * A motor's thermal replica: heat as a share of what it bears, 1 when used up.
 *
 * Source of all: IEC 60255-149:2013. The maker's own protection governs; this one only watches.
 */
export interface ThermalReplica {
  readonly timeConstantS: number;
  /** The highest current borne for ever, A: factor k times the base current I_B. */
  readonly bearableCurrentA: number;
}

/** Heat in which a steady current in A ends: (I / k I_B)². */
export function steadyHeat(replica: ThermalReplica, currentA: number): number {
  const relative = currentA / replica.bearableCurrentA;
  return relative * relative;
}

/** Share of its heat that a motor keeps over a step in s: exp(−Δt/τ). */
export function heatKept(replica: ThermalReplica, stepS: number): number {
  return Math.exp(-stepS / replica.timeConstantS);
}

/**
 * Heat after a step of any length in s at a steady current in A; exact, so that splitting a step changes nothing.
 *
 * A missing current (NaN) and a step of no length leave the heat as it was: what is not known does not cool.
 */
export function heatAfter(replica: ThermalReplica, heat: number, currentA: number, stepS: number): number {
  if (Number.isNaN(currentA) || !(stepS > 0)) return heat;
  const kept = heatKept(replica, stepS);
  return heat * kept + steadyHeat(replica, currentA) * (1 - kept);
}

/**
 * Time until the heat is used up at a steady current in A, s: 0 where it is already, Infinity where it never is.
 *
 * From cold the heat is 0; from a steady load `steadyHeat` of its current. t = τ ln[(H − θ)/(H − 1)], with
 * H = (I / k I_B)²: the standard's cold and hot curves in one. NaN for a missing current.
 */
export function tripTimeS(replica: ThermalReplica, heat: number, currentA: number): number {
  if (heat >= 1) return 0;
  const end = steadyHeat(replica, currentA);
  if (end <= 1) return Number.POSITIVE_INFINITY;
  return replica.timeConstantS * Math.log((end - heat) / (end - 1));
}
