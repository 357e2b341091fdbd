import type { Baseline, BaselineSignal, Features } from "../condition/features.ts";
import type { Unit } from "../fleet/unit.ts";
import { channelIndex } from "../terms/channels.ts";

/**
 * Gas held against the water it is pressed into. A feed of constant flow stands above the pressure at the
 * injector by what the injector and its line take; so when the pump's pressure falls, the gas falls with it
 * and the difference tells how the feed does. Source: pressures in a line in series.
 */

export const gas = channelIndex.gas_pressure;

/** Deviations of two gauges smaller than this many clean spreads are noise: their levels' own is about half a spread. */
const noiseSpreads = 3;

/** Water that wavers by more than so many times its clean unsteadiness leaves no difference to judge. */
export const mostWavering = 2;

/** The gauge nearest to the injector. */
export function waterGauge(unit: Unit): number {
  return unit.gas.injected === "discharge" ? channelIndex.discharge_pressure : channelIndex.suction_pressure;
}

/** What gas and water read when clean, kPa; null where the gauge was not measured. */
export function cleanGas(
  unit: Unit,
  baseline: Baseline | null,
): { gas: BaselineSignal; water: BaselineSignal | null } | null {
  const clean = baseline?.signals[gas];
  return clean ? { gas: clean, water: baseline?.signals[waterGauge(unit)] ?? null } : null;
}

/** What noise alone may move the difference of gas and water, kPa. */
export function gasNoiseKPa(clean: { gas: BaselineSignal; water: BaselineSignal | null }): number {
  const water = clean.water?.spread ?? 0;
  return noiseSpreads * Math.sqrt(clean.gas.spread * clean.gas.spread + water * water);
}

/** One row's evidence with its clean values: gas, and the water's gauge as discharge or as suction. */
export function gasNumbers({ unit, baseline, level }: Features, row: number): readonly number[] {
  const clean = cleanGas(unit, baseline);
  const none = [Number.NaN, Number.NaN];
  const water = [level[waterGauge(unit)][row], clean?.water?.center ?? Number.NaN];
  const atDischarge = unit.gas.injected === "discharge";
  const gasNow = [level[gas][row], clean?.gas.center ?? Number.NaN];
  return [...gasNow, ...(atDischarge ? water : none), ...(atDischarge ? none : water)];
}
