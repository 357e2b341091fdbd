/** Pressure of one metre of water at 20 °C, kPa (998.2067 kg/m³, Tanaka 2001). */
export const kpaPerMetre = 9.78906;

/**
 * Friction head of water in a straight pipe, m.
 *
 * Flow in L/min, bore and length in m, roughness coefficient 150 for PVC.
 * Source: Hazen–Williams, SI form 10.67 L Q^1.852 / (C^1.852 D^4.8704).
 */
export function pipeFrictionM(flowLpm: number, lengthM: number, boreM: number, coefficient = 150): number {
  if (flowLpm <= 0) return 0;
  const flow = flowLpm / 60_000;
  return 10.67 * lengthM * power(flow / coefficient, 1.852) * power(boreM, -4.8704);
}

/** x^y for positive x, the same on every version of Node. */
function power(x: number, y: number): number {
  return Math.exp(y * Math.log(x));
}

/** Power given to the water, W: flow in L/min, head in m. */
export function hydraulicPowerW(flowLpm: number, headM: number): number {
  return (flowLpm / 60) * headM * kpaPerMetre;
}

/**
 * Where a parabolic head curve meets a quadratic system without static head, L/min.
 *
 * Shutoff head in m, both coefficients in m per (L/min)²: H₀ − a Q² = b Q².
 */
export function dutyFlowLpm(shutoffHeadM: number, slope: number, resistance: number): number {
  return shutoffHeadM <= 0 ? 0 : Math.sqrt(shutoffHeadM / (slope + resistance));
}
