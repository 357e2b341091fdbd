/**
 * Where a parabolic head curve meets a quadratic system without static head, L/min.
 *
 * Shutoff head in m, both coefficients in m per (L/min)²: H₀ − a Q² = b Q².
 */
export function dutyFlowLpm(shutoffHeadM: number, slope: number, resistance: number): number {
  return shutoffHeadM <= 0 ? 0 : Math.sqrt(shutoffHeadM / (slope + resistance));
}
