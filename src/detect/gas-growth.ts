import type { Baseline, Features } from "../condition/features.ts";
import { centerOf } from "../condition/operating.ts";
import type { Unit } from "../fleet/unit.ts";
import { channelIndex } from "../terms/channels.ts";
import { leastGrowth } from "./fouling-points.ts";
import { gas, waterGauge } from "./gas.ts";

export const gasFlow = channelIndex.gas_flow;

/** Running compares only with the water's gauge within this share of its clean level. */
const waterNear = 0.1;
/** At least so much, kPa: a low head moves by as much as a pond falls and rises, half a metre of water. */
const waterNearKPa = 5;
/** A flow falls by fouling only while its feed stands this share of clean above the water. */
const fedShare = 0.85;
/** What shows that the gas line fouls here: the pressure of a constant flow, else the flow; its clean value, or NaN. */
export function judgedBy(unit: Unit, baseline: Baseline | null): { signal: number; clean: number } {
  const signal = unit.gas.feed === "constant flow" ? gas : gasFlow;
  return { signal, clean: centerOf(baseline, signal) ?? Number.NaN };
}

/** Growth over clean at one row, a share of clean; NaN where the row does not compare. */
export function growthOf(
  { unit, baseline, firstBaseline, level, value }: Features,
  signal: number,
  clean: number,
): (row: number) => number {
  const gauge = waterGauge(unit);
  const waterClean = centerOf(baseline, gauge);
  // A line that was piped anew pushes back otherwise: that is no growth over the first baseline.
  const waterFirst = centerOf(firstBaseline, gauge) ?? waterClean;
  const near = Math.max(waterNear * Math.abs(waterClean ?? 0), waterNearKPa);
  const leastOver = fedShare * ((centerOf(baseline, gas) ?? Number.NaN) - (waterClean ?? Number.NaN));
  return (row) => {
    // A level stays where it is while its gauge is missing or not trusted.
    if (Number.isNaN(value[signal][row])) return Number.NaN;
    if (waterClean !== undefined && Number.isNaN(value[gauge][row])) return Number.NaN;
    if (waterClean !== undefined && Math.abs(level[gauge][row] - waterClean) > near) return Number.NaN;
    const up = waterFirst === undefined ? 0 : level[gauge][row] - waterFirst;
    if (signal === gasFlow) {
      return level[gas][row] - level[gauge][row] < leastOver ? Number.NaN : 1 - value[gasFlow][row] / clean;
    }
    // Water that pushes back more lifts the gas with it; one that pushes less is not made up for.
    return Math.max(leastGrowth, (level[gas][row] - Math.max(up, 0)) / clean - 1);
  };
}
