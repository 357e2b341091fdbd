import { kpaPerMetreAt, saturationPressureKpa } from "./water.ts";

/** Water at a suction gauge: absolute pressure of the air in kPa, velocity in the pipe as v²/2g in m. */
export interface AtSuctionGauge {
  readonly atmosphericKpa: number;
  readonly temperatureC: number;
  readonly velocityHeadM: number;
  /** Of the gauge above the pump's datum, m; negative below it. */
  readonly gaugeHeightM: number;
}

/**
 * NPSH available, m, from a gauge in the suction pipe: kPa gauge, a vacuum negative.
 *
 * NPSHa = (p_atm + p_gauge − p_v)/(ρ g) + v²/2g + z_gauge. Source: DOE-HDBK-1018/1-93, Mechanical Science, as heads.
 */
export function npshAtGaugeM(suctionKpa: number, at: AtSuctionGauge): number {
  const aboveBoilingKpa = at.atmosphericKpa + suctionKpa - saturationPressureKpa(at.temperatureC);
  return aboveBoilingKpa / kpaPerMetreAt(at.temperatureC) + at.velocityHeadM + at.gaugeHeightM;
}

/** Open water that a pump draws from: absolute pressure of the air in kPa. */
export interface FromOpenWater {
  readonly atmosphericKpa: number;
  readonly temperatureC: number;
  /** Of the pump's datum above the water, m; negative where the suction is flooded. */
  readonly liftM: number;
  /** Lost between the water and the pump, m. */
  readonly frictionM: number;
}

/**
 * NPSH available, m, from the water that a pump draws from.
 *
 * NPSHa = (p_atm − p_v)/(ρ g) − lift − h_f. Source: DOE-HDBK-1018/1-93, Mechanical Science, as heads.
 */
export function npshFromWaterM(from: FromOpenWater): number {
  const aboveBoilingKpa = from.atmosphericKpa - saturationPressureKpa(from.temperatureC);
  return aboveBoilingKpa / kpaPerMetreAt(from.temperatureC) - from.liftM - from.frictionM;
}

/** How far NPSH available has to stand above NPSH required: by ratio and by head, whichever asks for more. */
export interface NpshMargin {
  readonly ratio: number;
  readonly headM: number;
}

/**
 * Margins for water by the pump's suction specific speed, below or above 7500 (US units).
 *
 * Source: ANSI/HI 9.6.1-2012, through secondary texts, which disagree on the numbers: settings, not laws.
 */
export const waterNpshMargins = {
  below7500: { ratio: 1.1, headM: 0.6 },
  above7500: { ratio: 1.2, headM: 1 },
} as const satisfies Record<string, NpshMargin>;

/**
 * NPSH that has to be available, m, for NPSH required in m as the maker states it.
 *
 * Makers state the NPSH at which 3 % of the head is already lost, so a ratio of 1 is not free of cavitation.
 */
export function npshToProvideM(npshRequiredM: number, margin: NpshMargin): number {
  return Math.max(npshRequiredM * margin.ratio, npshRequiredM + margin.headM);
}
