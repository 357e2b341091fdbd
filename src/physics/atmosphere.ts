import { power } from "./power.ts";

const earthRadiusM = 6_356_766;

/**
 * Standard absolute pressure of the air, kPa, at an elevation above sea level in m: −5 000 to 11 000 m.
 *
 * A default, not a measurement: weather moves it by about 3 kPa either way (common practice).
 * Source: U.S. Standard Atmosphere 1976, from elevation by way of geopotential altitude.
 */
export function atmosphericPressureKpa(elevationM: number): number {
  const geopotentialM = (earthRadiusM * elevationM) / (earthRadiusM + elevationM);
  return 101.325 * power(1 - (0.0065 * geopotentialM) / 288.15, 5.255876);
}
