import type { Unit } from "../fleet/unit.ts";
import { minute } from "../terms/time.ts";
import type { Baseline } from "./features.ts";

/** Allowed priming time after a start (common practice). */
export const primingAllowedMs = 5 * minute;

/** Discharge pressure that shows water moving where no baseline is known yet, kPa (house choice). */
export const waterPressureKPa = 10;

/**
 * Motor current above which the motor runs, A. An unloaded capacitor-start motor still draws 70–80 %
 * of its full-load current, so anything above noise is running; the level hangs on the nameplate, else
 * on the unit's own baseline, else it is 0.5 A (house choice).
 */
export function runningCurrentA(unit: Unit, baselineCurrentA: number | undefined): number {
  if (unit.motor.fullLoadCurrentA !== undefined) return 0.2 * unit.motor.fullLoadCurrentA;
  if (baselineCurrentA !== undefined && baselineCurrentA > 0) return 0.3 * baselineCurrentA;
  return 0.5;
}

/** Fractions of the baseline discharge pressure: prime is established above, water stands still below. */
export const primeEstablishedFraction = 0.5;
export const waterStillFraction = 0.2;

/** Part of its baseline current from which the motor counts as loaded (house choice: half the smallest loss of load that is judged). */
export const loadedFraction = 0.97;

/** The baseline centre of one signal; undefined where there is none. */
export function centerOf(baseline: Baseline | null, signal: number): number | undefined {
  return baseline?.signals[signal]?.center;
}
