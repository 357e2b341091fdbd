/**
 * Current of a small capacitor-start motor without load, as a share of full load: common practice, where
 * the motor's own is not known.
 */
export const usualUnloadedShare = { from: 0.7, to: 0.8 } as const;

/** A motor by its full-load current, A, and its current without load as a share of that, 0 to below 1. */
export interface MotorCurrents {
  readonly fullLoadCurrentA: number;
  readonly unloadedShare: number;
}

/**
 * Line current, A, at a shaft load (1 = rated) and a supply voltage (1 = nameplate).
 *
 * Source: I = √(I₀² + (x·Iₐ)²) with Iₐ² = I_FL² − I₀²: a magnetising part that follows the voltage and
 * a working part that follows the load. The working part rises as the voltage falls.
 */
export function motorCurrentA(motor: MotorCurrents, load: number, voltageRatio = 1): number {
  const full = motor.fullLoadCurrentA;
  const magnetising = full * motor.unloadedShare * voltageRatio;
  const working = (load / voltageRatio) * full * Math.sqrt(1 - motor.unloadedShare * motor.unloadedShare);
  return Math.sqrt(magnetising * magnetising + working * working);
}

/**
 * Shaft load (1 = rated) at a line current in A and a supply voltage (1 = nameplate): `motorCurrentA` inverted.
 *
 * 0 at the magnetising current or less. Below half load the curve is flat, and current says little of load.
 */
export function motorLoad(motor: MotorCurrents, currentA: number, voltageRatio = 1): number {
  const full = motor.fullLoadCurrentA;
  const magnetising = full * motor.unloadedShare * voltageRatio;
  const working = Math.sqrt(Math.max(0, currentA * currentA - magnetising * magnetising));
  return (working * voltageRatio) / (full * Math.sqrt(1 - motor.unloadedShare * motor.unloadedShare));
}
