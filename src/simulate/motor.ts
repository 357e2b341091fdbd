import { horsepowerW } from "../physics/constants.ts";
import { fullLoadCurrentA, type Voltage } from "../physics/full-load-current.ts";
import type { MotorCurrents } from "../physics/motor-current.ts";
import type { Plant } from "./plant-state.ts";

/** Sizes that skids are built with. */
export type Horsepower = 0.5 | 0.75 | 1;

export interface Motor extends MotorCurrents {
  readonly ratedPowerW: number;
  readonly voltageV: number;
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

/** Heat made in the motor at a line current, W: two fifths iron and friction, the rest copper (common practice). */
export function motorLossW(motor: Motor, currentA: number): number {
  const relative = currentA / motor.fullLoadCurrentA;
  return motor.fullLoadLossW * (0.4 + 0.6 * relative * relative);
}

/** Winding temperatures at which a built-in protector opens and closes again, °C (common practice, class B). */
const protectorOpensC = 155;
const protectorClosesC = 90;
/** A worn protector opens after so long and closes after so long, s. */
const wornRunsS = 9 * 60;
const wornRestsS = 12 * 60;

/** The motor's own thermal protector: it opens when the winding is too hot, or by a rhythm where it is worn. */
export function stepProtector(plant: Plant, worn: boolean, stepS: number): void {
  plant.protectorS += stepS;
  const open = plant.protectorOpen
    ? worn
      ? plant.protectorS < wornRestsS
      : plant.windingC > protectorClosesC
    : plant.windingC > protectorOpensC || (worn && plant.running && plant.protectorS >= wornRunsS);
  if (open !== plant.protectorOpen) plant.protectorS = 0;
  plant.protectorOpen = open;
}
