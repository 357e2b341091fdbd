const horsepowerW = 745.6999;

const fullLoadCurrents = {
  0.5: { 115: 9.8, 230: 4.9 },
  0.75: { 115: 13.8, 230: 6.9 },
  1: { 115: 16, 230: 8 },
} as const;

export type Horsepower = keyof typeof fullLoadCurrents;
export type Voltage = 115 | 230;

/** Single-phase full-load current, A. Source: NEC Table 430.248. */
export function fullLoadCurrentA(horsepower: Horsepower, voltage: Voltage): number {
  return fullLoadCurrents[horsepower][voltage];
}

export interface Motor {
  readonly ratedPowerW: number;
  readonly voltageV: number;
  readonly fullLoadCurrentA: number;
  /** Unloaded current as a share of full load: 0.7–0.8 for small capacitor-start motors (common practice). */
  readonly unloadedShare: number;
  /** Heat made at full load, W. */
  readonly fullLoadLossW: number;
}

/** A small capacitor-start motor; 66 % full-load efficiency is common practice at this size. */
export function capacitorStartMotor(horsepower: Horsepower, voltage: Voltage, unloadedShare: number): Motor {
  const ratedPowerW = horsepower * horsepowerW;
  return {
    ratedPowerW,
    voltageV: voltage,
    fullLoadCurrentA: fullLoadCurrentA(horsepower, voltage),
    unloadedShare,
    fullLoadLossW: ratedPowerW * (1 / 0.66 - 1),
  };
}

/**
 * Line current, A, at a shaft load (1 = rated) and a supply voltage (1 = nameplate).
 *
 * Source: I = √(I₀² + (x·Iₐ)²) with Iₐ² = I_FL² − I₀²: a magnetising part that follows the voltage and
 * a working part that follows the load. The working part rises as the voltage falls.
 */
export function motorCurrentA(motor: Motor, load: number, voltageRatio = 1): number {
  const full = motor.fullLoadCurrentA;
  const magnetising = full * motor.unloadedShare * voltageRatio;
  const working = (load / voltageRatio) * full * Math.sqrt(1 - motor.unloadedShare * motor.unloadedShare);
  return Math.sqrt(magnetising * magnetising + working * working);
}

/** Heat made in the motor at a line current, W: two fifths iron and friction, the rest copper (common practice). */
export function motorLossW(motor: Motor, currentA: number): number {
  const relative = currentA / motor.fullLoadCurrentA;
  return motor.fullLoadLossW * (0.4 + 0.6 * relative * relative);
}
