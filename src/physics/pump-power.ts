import { kpaPerMetre } from "./water.ts";

/** Power given to the water, W: flow in L/min, head in m of water at 20 °C. P = ρ g Q H. */
export function hydraulicPowerW(flowLpm: number, headM: number): number {
  return (flowLpm / 60) * headM * kpaPerMetre;
}
